use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use cornerwise_wood::PictureHash;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::sync::Arc;

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
