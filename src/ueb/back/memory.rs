//! Words that were read already: in no mode, a word that comes again says the same and is not read again.

use super::sink::Sink;
use crate::cell::Cell;
use crate::ueb::Piece;

/// Longer words are not remembered: so many cells, of six bits, make a key.
const LONGEST: usize = 10;
/// A text shorter than this, in cells, is not worth remembering.
const SHORT_TEXT: usize = 600;
/// At most so many words are remembered at a time, a power of two: one takes the place of another.
const MOST_WORDS: usize = 1 << 14;
/// At most so many bytes of print, and so many pieces, are kept.
const MOST_KEPT: usize = 1 << 21;

/// A word as a number, its cells one after another; none is zero.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Key(u64);

/// The run of cells with dots that begins at `at`: where it ends, and its key, if it may be remembered.
pub(super) fn run(cells: &[Cell], at: usize) -> (usize, Option<Key>) {
    let mut key = 0u64;
    let mut end = at;
    let mut last = Cell::BLANK;
    while let Some(&cell) = cells.get(end).filter(|cell| !cell.is_blank()) {
        key = key << 6 | u64::from(cell.bits());
        last = cell;
        end += 1;
    }
    // What a prefix at a word's end says depends on what follows; and so does a word at the end of the text.
    let plain = end - at <= LONGEST && !last.is_prefix() && end < cells.len();
    (end, plain.then_some(Key(key)))
}

/// What a word said: where that is kept.
#[derive(Clone, Copy, Debug, Default)]
struct Slot {
    key: Key,
    print: u32,
    print_len: u16,
    chars: u16,
    pieces: u32,
    pieces_len: u16,
}

/// The words remembered.
pub(super) struct Memory {
    /// Empty when the text is short.
    slots: Vec<Slot>,
    print: String,
    /// With ranges that begin at the word's own beginning.
    pieces: Vec<Piece>,
}

impl Memory {
    /// For a text of so many cells.
    pub fn new(cells: usize) -> Memory {
        let words = if cells < SHORT_TEXT { 0 } else { (cells / 8).next_power_of_two().min(MOST_WORDS) };
        Memory { slots: vec![Slot::default(); words], print: String::new(), pieces: Vec::new() }
    }

    fn place(&self, key: Key) -> Option<usize> {
        let mixed = key.0.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        (!self.slots.is_empty()).then(|| (mixed >> 40) as usize & (self.slots.len() - 1))
    }

    /// Says again what the word with this key said; false when it is not remembered. The word begins where `out` has
    /// its base.
    #[inline]
    pub fn say(&self, key: Key, out: &mut Sink) -> bool {
        let Some(slot) =
            self.place(key).and_then(|place| self.slots.get(place)).filter(|slot| slot.key == key)
        else {
            return false;
        };
        let from = slot.print as usize;
        out.print.push_str(&self.print[from..from + usize::from(slot.print_len)]);
        if let Some(pieces) = &mut out.pieces {
            let (base, chars, from) = (out.base, out.chars, slot.pieces as usize);
            pieces.extend(self.pieces[from..from + usize::from(slot.pieces_len)].iter().map(|piece| Piece {
                cells: base + piece.cells.start..base + piece.cells.end,
                print: chars + piece.print.start..chars + piece.print.end,
                ..*piece
            }));
            out.chars += usize::from(slot.chars);
        }
        true
    }

    /// Remembers what the word with this key said: all that `out` got since its print had `print` bytes and `chars`
    /// characters, and it had `pieces` pieces.
    pub fn keep(&mut self, key: Key, out: &Sink, print: usize, chars: usize, pieces: usize) {
        let Some(place) = self.place(key) else { return };
        if self.print.len().max(self.pieces.len()) > MOST_KEPT {
            *self = Memory {
                slots: vec![Slot::default(); self.slots.len()],
                print: String::new(),
                pieces: Vec::new(),
            };
        }
        let said = &out.print[print..];
        let new = out.pieces.as_deref().map_or(&[][..], |all| &all[pieces..]);
        // A word of so few cells says far less than this.
        let (Ok(print_len), Ok(pieces_len)) = (u16::try_from(said.len()), u16::try_from(new.len())) else {
            return;
        };
        self.slots[place] = Slot {
            key,
            print: self.print.len() as u32,
            print_len,
            chars: (out.chars - chars) as u16,
            pieces: self.pieces.len() as u32,
            pieces_len,
        };
        self.print.push_str(said);
        self.pieces.extend(new.iter().map(|piece| Piece {
            cells: piece.cells.start - out.base..piece.cells.end - out.base,
            print: piece.print.start - chars..piece.print.end - chars,
            ..*piece
        }));
    }
}
