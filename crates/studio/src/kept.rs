//! A derived value, kept for as long as its own inputs stay the same.

/// A value and what it was derived from.
#[derive(Debug)]
pub struct Kept<K, V> {
    kept: Option<(K, V)>,
    made: u64,
}

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Kept { kept: None, made: 0 }
    }
}

impl<K, V: Clone> Kept<K, V> {
    /// The value for `key`: the one that is kept while `same` says that its key is the same, or else made anew.
    pub fn get(&mut self, key: K, same: impl FnOnce(&K, &K) -> bool, make: impl FnOnce(&K) -> V) -> V {
        if let Some((known, value)) = &self.kept
            && same(known, &key)
        {
            return value.clone();
        }
        let value = make(&key);
        self.made += 1;
        self.kept = Some((key, value.clone()));
        value
    }

    /// How often the value was made.
    pub fn made(&self) -> u64 {
        self.made
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn made_once_for_each_change_of_its_inputs() {
        let mut kept = Kept::default();
        for (key, made) in [(1, 1), (1, 1), (2, 2), (2, 2), (1, 3)] {
            assert_eq!(kept.get(key, |a, b| a == b, |k| k * 10), key * 10);
            assert_eq!(kept.made(), made);
        }
    }
}
