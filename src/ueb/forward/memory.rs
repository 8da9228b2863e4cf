//! What was written for a word or a symbols-sequence is remembered for the rest of the text.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use super::sink::Sink;

/// At most this many sequences are remembered in one call; the slots for plain words are twice as many.
const REMEMBERED: usize = 1 << 15; // as many fit into `Memory::places`

/// The letters of a plain word of at most sixteen, eight to a number, the first in the lowest bits; never zero.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Packed {
    low: u64,
    high: u64,
}

/// Eight bytes of a text from `at` on, zero after its end.
#[inline]
fn eight(bytes: &[u8], at: usize) -> u64 {
    let rest = bytes.get(at..).unwrap_or_default();
    match rest.first_chunk::<8>() {
        Some(chunk) => u64::from_le_bytes(*chunk),
        None => rest.iter().rev().fold(0, |chunk, &byte| chunk << 8 | u64::from(byte)),
    }
}

/// How many of eight bytes are small letters, from the first on.
#[inline]
fn small_letters(chunk: u64) -> usize {
    const ONES: u64 = 0x0101_0101_0101_0101;
    let low = chunk & (ONES * 0x7f);
    let (from_a, after_z) = (low + ONES * (0x80 - 0x61), low + ONES * (0x80 - 0x7b));
    let small = from_a & !after_z & !chunk & (ONES * 0x80);
    ((!small & (ONES * 0x80)).trailing_zeros() / 8) as usize
}

/// The first `n` of eight bytes.
#[inline]
fn first(chunk: u64, n: usize) -> u64 {
    if n < 8 { chunk & ((1 << (8 * n)) - 1) } else { chunk }
}

impl Packed {
    /// The small letters at `from`, perhaps with a capital in front, and how many they are; a longer word's first
    /// seventeen or more are counted, and not packed whole.
    #[inline]
    pub fn word(bytes: &[u8], from: usize) -> (Packed, usize) {
        let chunk = eight(bytes, from);
        let capital = (chunk as u8).is_ascii_uppercase();
        // The capital's small letter has one bit more.
        let mut n = small_letters(if capital { chunk | 0x20 } else { chunk });
        let low = first(chunk, n);
        if n < 8 {
            return (Packed { low, high: 0 }, n);
        }
        let chunk = eight(bytes, from + 8);
        let more = small_letters(chunk);
        n += more;
        if more == 8 && bytes.get(from + n).is_some_and(u8::is_ascii_lowercase) {
            n += 1;
        }
        (Packed { low, high: first(chunk, more) }, n)
    }
}

#[derive(Clone, Copy, Default)]
struct Slot<K> {
    word: Packed,
    /// What follows may change how it is written (10.5.1, 10.5.4).
    next_matters: bool,
    kept: K,
}

/// The memory of one call.
pub(crate) struct Memory<'t, S: Sink> {
    /// Of each place: which of `words` has it, counted from 1; 0 when it is free.
    places: Vec<u16>,
    /// The words, in the order in which they came: those that come often stand together.
    words: Vec<Slot<S::Kept>>,
    sequences: HashMap<&'t [u8], S::Kept, BuildHasherDefault<Quick>>,
    pub store: S::Store,
}

impl<S: Sink> Default for Memory<'_, S> {
    fn default() -> Self {
        Memory {
            places: Vec::new(),
            words: Vec::new(),
            sequences: HashMap::default(),
            store: S::Store::default(),
        }
    }
}

impl<'t, S: Sink> Memory<'t, S> {
    /// The place of a word, and which of `words` has it.
    #[inline]
    fn place(&self, word: Packed) -> (usize, Option<&Slot<S::Kept>>) {
        let mixed = (word.low ^ word.high.rotate_left(23)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let mask = self.places.len() - 1;
        let mut at = (mixed >> 40) as usize & mask;
        loop {
            let slot = usize::from(self.places[at]).checked_sub(1).map(|slot| &self.words[slot]);
            if slot.is_none_or(|slot| slot.word == word) {
                return (at, slot);
            }
            at = (at + 1) & mask;
        }
    }

    /// What is kept for a plain word, and whether what follows may change it.
    #[inline]
    pub fn word(&self, word: Packed) -> Option<(S::Kept, bool)> {
        if self.words.is_empty() {
            return None;
        }
        self.place(word).1.map(|slot| (slot.kept, slot.next_matters))
    }

    /// Whether another word can be kept.
    pub fn has_room(&self) -> bool {
        self.words.len() < REMEMBERED
    }

    /// Keeps a plain word that is not kept yet.
    pub fn keep_word(&mut self, word: Packed, kept: S::Kept, next_matters: bool) {
        if self.words.len() * 2 >= self.places.len() {
            self.places = vec![0; (self.places.len() * 4).clamp(256, REMEMBERED * 2)];
            for slot in 0..self.words.len() {
                let at = self.place(self.words[slot].word).0;
                self.places[at] = slot as u16 + 1;
            }
        }
        let at = self.place(word).0;
        self.words.push(Slot { word, next_matters, kept });
        self.places[at] = self.words.len() as u16;
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
