//! What was written for a word or a symbols-sequence is remembered for the rest of the text.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use super::sink::Sink;

/// At most this many sequences are remembered in one call; the slots for plain words are twice as many.
const REMEMBERED: usize = 1 << 15;

/// The letters of a plain word of at most sixteen, packed; never zero.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Packed {
    high: u64,
    low: u64,
}

impl Packed {
    /// One more letter, `n` letters being packed.
    #[inline]
    pub fn push(&mut self, n: usize, letter: u8) {
        if n == 8 {
            self.high = self.low;
            self.low = 0;
        }
        self.low = self.low << 8 | u64::from(letter);
    }
}

#[derive(Clone, Copy, Default)]
struct Slot<K> {
    word: Packed,
    /// What follows may change how it is written (10.5.1, 10.5.4).
    touchy: bool,
    kept: K,
}

/// The memory of one call.
pub(crate) struct Memory<'t, S: Sink> {
    words: Vec<Slot<S::Kept>>,
    used: usize,
    sequences: HashMap<&'t [u8], S::Kept, BuildHasherDefault<Quick>>,
    pub store: S::Store,
}

impl<S: Sink> Default for Memory<'_, S> {
    fn default() -> Self {
        Memory { words: Vec::new(), used: 0, sequences: HashMap::default(), store: S::Store::default() }
    }
}

impl<'t, S: Sink> Memory<'t, S> {
    #[inline]
    fn place(&self, word: Packed) -> usize {
        let mixed = (word.low ^ word.high.rotate_left(23)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let mask = self.words.len() - 1;
        let mut at = (mixed >> 40) as usize & mask;
        while self.words[at].word != word && self.words[at].word != Packed::default() {
            at = (at + 1) & mask;
        }
        at
    }

    /// What is kept for a plain word, and whether what follows may change it.
    #[inline]
    pub fn word(&self, word: Packed) -> Option<(S::Kept, bool)> {
        if self.words.is_empty() {
            return None;
        }
        let slot = &self.words[self.place(word)];
        (slot.word == word).then_some((slot.kept, slot.touchy))
    }

    /// Whether another word can be kept.
    pub fn has_room(&self) -> bool {
        self.used < REMEMBERED
    }

    /// Keeps a plain word that is not kept yet.
    pub fn keep_word(&mut self, word: Packed, kept: S::Kept, touchy: bool) {
        if self.used * 2 >= self.words.len() {
            let larger = (self.words.len() * 4).clamp(256, REMEMBERED * 2);
            let old = std::mem::replace(&mut self.words, vec![Slot::default(); larger]);
            for slot in old.into_iter().filter(|slot| slot.word != Packed::default()) {
                let at = self.place(slot.word);
                self.words[at] = slot;
            }
        }
        let at = self.place(word);
        self.words[at] = Slot { word, touchy, kept };
        self.used += 1;
    }

    /// What is kept for any other sequence.
    pub fn sequence(&self, text: &[u8]) -> Option<S::Kept> {
        self.sequences.get(text).copied()
    }

    /// Keeps a sequence, as long as there is room.
    pub fn keep_sequence(&mut self, text: &'t [u8], kept: impl FnOnce(&mut S::Store) -> S::Kept) {
        if self.sequences.len() < REMEMBERED {
            let kept = kept(&mut self.store);
            self.sequences.insert(text, kept);
        }
    }
}

/// A quick hash for short texts.
#[derive(Default)]
pub(crate) struct Quick(u64);

impl Hasher for Quick {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0u8; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.0 = (self.0.rotate_left(5) ^ u64::from_le_bytes(word)).wrapping_mul(0x517c_c1b7_2722_0a95);
        }
    }
}
