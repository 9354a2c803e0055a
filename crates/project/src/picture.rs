use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest, Sha256};
use std::fmt;
use std::sync::Arc;

/// Names a picture by what is in it: the SHA-256 of its file's bytes (FIPS 180-4), as `sha256sum` tells it. In the file it
/// is 64 hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PictureHash(pub [u8; 32]);

impl PictureHash {
    /// Of the bytes of a picture's file.
    pub fn of(bytes: &[u8]) -> PictureHash {
        PictureHash(Sha256::digest(bytes).into())
    }

    fn parse(text: &str) -> Option<PictureHash> {
        let mut hash = [0; 32];
        if text.len() != 64 || !text.is_ascii() {
            return None;
        }
        for (place, byte) in hash.iter_mut().enumerate() {
            *byte = u8::from_str_radix(text.get(2 * place..2 * place + 2)?, 16).ok()?;
        }
        Some(PictureHash(hash))
    }
}

impl fmt::Display for PictureHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for PictureHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PictureHash({self})")
    }
}

impl Serialize for PictureHash {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for PictureHash {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<PictureHash, D::Error> {
        let text = String::deserialize(deserializer)?;
        PictureHash::parse(&text)
            .ok_or_else(|| D::Error::custom("a picture is named by its SHA-256, 64 hexadecimal digits"))
    }
}

/// The bytes of a picture's file as the maker gave them. In the project's file they are base64 (RFC 4648).
#[derive(Clone, PartialEq, Eq)]
pub struct PictureBytes(pub Arc<[u8]>);

impl fmt::Debug for PictureBytes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PictureBytes({})", self.0.len())
    }
}

impl Serialize for PictureBytes {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&STANDARD.encode(&self.0))
    }
}

impl<'de> Deserialize<'de> for PictureBytes {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<PictureBytes, D::Error> {
        let text = String::deserialize(deserializer)?;
        let bytes = STANDARD
            .decode(text)
            .map_err(|error| D::Error::custom(format!("the bytes of a picture are base64 text: {error}")))?;
        Ok(PictureBytes(bytes.into()))
    }
}

/// Where the bytes of a picture are kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kept {
    /// In the project itself.
    Inside(PictureBytes),
    /// In a file beside the project. While the project is open the path is a whole one; in the file it starts from the
    /// project's own folder.
    Beside(String),
}

/// A picture that the project uses. It is stored once, however often it is used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Picture {
    /// What it is named by.
    pub hash: PictureHash,
    /// The name of its file, for the maker. At most [`crate::MAX_NAME_CHARS`] characters.
    pub name: String,
    /// How many pixels it is wide, standing upright.
    pub width_px: u32,
    /// How many pixels it is high.
    pub height_px: u32,
    /// Where its bytes are.
    pub kept: Kept,
}

impl Picture {
    /// How many of its bytes the project's own file holds, before they are written as text.
    pub fn inside_bytes(&self) -> usize {
        match &self.kept {
            Kept::Inside(bytes) => bytes.0.len(),
            Kept::Beside(_) => 0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4's example "abc" (its digest from memory), and the empty message.
    #[test]
    fn a_hash_is_the_published_sha_256() {
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(PictureHash::of(b"abc").to_string(), abc);
        assert_eq!(PictureHash::parse(abc), Some(PictureHash::of(b"abc")));
        let none = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        assert_eq!(PictureHash::of(b"").to_string(), none);
        for bad in ["", "ba78", &"g".repeat(64), &"é".repeat(32), &abc.to_uppercase()[..63]] {
            assert_eq!(PictureHash::parse(bad), None, "{bad}");
        }
    }

    /// RFC 4648, section 10: "foobar" is Zm9vYmFy.
    #[test]
    fn bytes_are_written_as_base64() {
        let bytes = PictureBytes(b"foobar"[..].into());
        let text = ron::to_string(&bytes).unwrap();
        assert!(text.contains("Zm9vYmFy"), "{text}");
        assert_eq!(ron::from_str::<PictureBytes>(&text).unwrap(), bytes);
        assert!(ron::from_str::<PictureBytes>("\"Zm9v!\"").unwrap_err().to_string().contains("base64"));
    }
}
