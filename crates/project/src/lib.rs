//! The maker's document: plain data, checks, one command per edit, and history.
