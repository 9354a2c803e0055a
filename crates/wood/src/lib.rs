//! What wood lies at a point of the blank, how it looks, and how the seams meet.
