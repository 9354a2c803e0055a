//! The name of a picture.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest, Sha256};
use std::fmt;

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
}
