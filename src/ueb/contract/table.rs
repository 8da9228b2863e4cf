//! A small table of words, built once and asked often: open addressing over a plain hash of the letters, so that
//! asking costs one pass over the word and no allocation.

/// Words with a value each.
pub struct Table<V> {
    slots: Vec<u32>,
    entries: Vec<(Box<[u8]>, V)>,
    /// Which first two letters any word has, so that most words are not even hashed.
    begins: Box<[bool; 1 << 10]>,
    longest: usize,
}

/// Where the first two letters of a word stand in `begins`.
fn begin(word: &[u8]) -> Option<usize> {
    let (first, second) = (*word.first()?, *word.get(1)?);
    Some(usize::from(first & 31) << 5 | usize::from(second & 31))
}

/// The hash of a word (FNV-1a, 64 bits).
pub fn hash(word: &[u8]) -> u64 {
    word.iter()
        .fold(0xcbf2_9ce4_8422_2325, |sum, &byte| (sum ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3))
}

impl<V> Table<V> {
    /// A table of these words; of a word given twice the first value stays.
    pub fn new(words: impl IntoIterator<Item = (Box<[u8]>, V)>) -> Self {
        let words: Vec<_> = words.into_iter().collect();
        let size = (words.len() * 2).next_power_of_two().max(16);
        let mut table = Table {
            slots: vec![0; size],
            entries: Vec::with_capacity(words.len()),
            begins: Box::new([false; 1 << 10]),
            longest: words.iter().map(|(word, _)| word.len()).max().unwrap_or(0),
        };
        for (word, value) in words {
            let slot = table.slot(&word);
            if let Some(begin) = begin(&word) {
                table.begins[begin] = true;
            }
            if table.slots[slot] == 0 {
                table.entries.push((word, value));
                table.slots[slot] = table.entries.len() as u32;
            }
        }
        table
    }

    /// Where the word is, or the free slot where it would go; half the slots are always free.
    fn slot(&self, word: &[u8]) -> usize {
        let mask = self.slots.len() - 1;
        let sum = hash(word);
        let mut slot = (sum ^ (sum >> 32)) as usize & mask;
        while self.slots[slot] != 0 && *self.entries[self.slots[slot] as usize - 1].0 != *word {
            slot = (slot + 1) & mask;
        }
        slot
    }

    /// The value of a word.
    pub fn get(&self, word: &[u8]) -> Option<&V> {
        if word.len() > self.longest || begin(word).is_some_and(|begin| !self.begins[begin]) {
            return None;
        }
        let entry = self.slots[self.slot(word)] as usize;
        entry.checked_sub(1).map(|entry| &self.entries[entry].1)
    }

    /// Whether any word begins with the same two letters.
    pub fn may_begin(&self, word: &[u8]) -> bool {
        begin(word).is_none_or(|begin| self.begins[begin])
    }

    /// All words with their values, as they came.
    pub fn iter(&self) -> impl Iterator<Item = &(Box<[u8]>, V)> {
        self.entries.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_was_put_in_and_nothing_else() {
        let words = (0..1000u32).map(|n| (n.to_string().into_bytes().into_boxed_slice(), n));
        let table = Table::new(words);
        assert!((0..1000u32).all(|n| table.get(n.to_string().as_bytes()) == Some(&n)));
        assert!((1000..3000u32).all(|n| table.get(n.to_string().as_bytes()).is_none()));
        assert_eq!(table.iter().count(), 1000);
    }
}
