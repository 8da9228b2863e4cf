//! The six-dot cell: dots, mirror, braille order and notations.
//!
//! ```
//! use cellwright::cell::Cell;
//! let e = Cell::from_dots(&[1, 5]).unwrap();
//! assert_eq!(e.to_unicode(), '⠑');
//! assert_eq!(e.mirror(), Cell::from_dots(&[2, 4]).unwrap()); // i
//! assert_eq!(e.dot_numbers(), "1-5");
//! assert_eq!(Cell::from_ascii('E'), Some(e));
//! ```

use std::fmt;

/// One six-dot cell. Bit 0 is dot 1 … bit 5 is dot 6; the blank cell is zero (section 1.1.1).
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Cell(u8);

/// North American braille ASCII, lower case, indexed by the cell's bits (common practice).
const ASCII: &[u8; 64] = b" a1b'k2l@cif/msp\"e3h9o6r^djg>ntq,*5<-u8v.%[$+x!&;:4\\0z7(_?w]#y)=";

/// The 63 cells with dots in braille order: seven lines, in braille ASCII (section 1.1.2).
const ORDER: [&str; 7] =
    ["abcdefghij", "klmnopqrst", "uvxyz&=(!)", "*<%?:$]\\[w", "1234567890", "/+#>'-", "@^_\".;,"];

/// The 64 cells as a TrueType font, U+2800 to U+283F (the Unicode standard, Braille Patterns), one as wide as the next. Its
/// size is the distance of two lines of braille, 4.27 times that of two dots of a cell.
pub const FONT: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/cells.ttf"));

impl Cell {
    /// The blank cell (a braille space).
    pub const BLANK: Cell = Cell(0);

    /// The cell with these bits (bit 0 is dot 1); `None` above 63.
    pub const fn from_bits(bits: u8) -> Option<Cell> {
        if bits < 64 { Some(Cell(bits)) } else { None }
    }

    /// The bits, 0 to 63; bit 0 is dot 1.
    pub const fn bits(self) -> u8 {
        self.0
    }

    /// The cell with these dots; `None` when a number is not 1 to 6 or stands twice.
    pub fn from_dots(dots: &[u8]) -> Option<Cell> {
        dots.iter().try_fold(Cell::BLANK, |cell, &dot| {
            if !(1..=6).contains(&dot) || cell.has_dot(dot) {
                return None;
            }
            Some(Cell(cell.0 | 1 << (dot - 1)))
        })
    }

    /// Whether this dot, 1 to 6, is raised.
    pub const fn has_dot(self, dot: u8) -> bool {
        dot >= 1 && dot <= 6 && self.0 & (1 << (dot - 1)) != 0
    }

    /// The numbers of the raised dots, rising.
    pub fn dots(self) -> impl Iterator<Item = u8> {
        (1..=6).filter(move |&dot| self.has_dot(dot))
    }

    /// Whether no dot is raised.
    pub const fn is_blank(self) -> bool {
        self.0 == 0
    }

    /// The left-right mirror: dots 1 2 3 change places with dots 4 5 6, as on the back of the sheet.
    pub const fn mirror(self) -> Cell {
        Cell((self.0 >> 3) | ((self.0 & 7) << 3))
    }

    /// The shape `rows` rows lower (negative: higher); `None` when a dot would leave the cell.
    pub fn shifted(self, rows: i8) -> Option<Cell> {
        self.dots().try_fold(Cell::BLANK, |cell, dot| {
            let row = (dot as i8 - 1) % 3 + rows;
            let column = (dot - 1) / 3;
            (0..3).contains(&row).then(|| Cell(cell.0 | 1 << (column * 3 + row as u8)))
        })
    }

    /// Which rows hold dots: top, middle, bottom.
    pub const fn rows(self) -> [bool; 3] {
        [self.0 & 0o11 != 0, self.0 & 0o22 != 0, self.0 & 0o44 != 0]
    }

    /// Whether the cell has dots, and none of them is dot 1 or dot 4 ("lower", section 2.1).
    pub const fn is_lower(self) -> bool {
        self.0 != 0 && self.0 & 0o11 == 0
    }

    /// Whether the cell has dot 1 or dot 4 ("upper", section 2.1).
    pub const fn is_upper(self) -> bool {
        self.0 & 0o11 != 0
    }

    /// Whether dots stand in the top and bottom rows and in both columns ("strong character", section 2.1).
    pub const fn is_strong(self) -> bool {
        self.is_upper() && self.0 & 0o44 != 0 && self.0 & 7 != 0 && self.0 & 0o70 != 0
    }

    /// Whether the cell is one of the eight prefixes (section 1.2.5).
    pub const fn is_prefix(self) -> bool {
        self.0 == 0o74 || (self.0 != 0 && self.0 & 7 == 0)
    }

    /// The line of braille order, 1 to 7, and the place in it from 0; `None` for the blank cell (section 1.1.2).
    pub fn order(self) -> Option<(u8, u8)> {
        let ascii = self.to_ascii();
        ORDER.iter().enumerate().find_map(|(line, cells)| {
            let place = cells.chars().position(|c| c == ascii)?;
            Some((line as u8 + 1, place as u8))
        })
    }

    /// The cells of one line, 1 to 7, of braille order (section 1.1.2); empty for any other number.
    pub fn order_line(line: u8) -> Vec<Cell> {
        ORDER
            .get(usize::from(line).wrapping_sub(1))
            .map(|cells| cells.chars().filter_map(Cell::from_ascii).collect())
            .unwrap_or_default()
    }

    /// All 64 cells, the blank first, by their bits.
    pub fn all() -> impl Iterator<Item = Cell> {
        (0..64).map(Cell)
    }

    /// The Unicode braille pattern, U+2800 to U+283F.
    pub fn to_unicode(self) -> char {
        char::from_u32(0x2800 + u32::from(self.0)).unwrap_or('\u{2800}')
    }

    /// The cell of a six-dot Unicode braille pattern; `None` for any other character, eight-dot patterns included.
    pub const fn from_unicode(c: char) -> Option<Cell> {
        let code = c as u32;
        if code >= 0x2800 && code < 0x2840 { Some(Cell((code - 0x2800) as u8)) } else { None }
    }

    /// The braille ASCII character, letters in lower case.
    pub const fn to_ascii(self) -> char {
        ASCII[self.0 as usize] as char
    }

    /// The braille ASCII character with the sixty-four characters of the upper-case set.
    pub const fn to_ascii_upper(self) -> char {
        self.to_ascii().to_ascii_uppercase()
    }

    /// The cell of a braille ASCII character: both letter cases, and `{ | } ~` and the grave accent as the
    /// twins of `[ \ ] ^ @` (common practice).
    pub const fn from_ascii(c: char) -> Option<Cell> {
        if (c as u32) < 128 {
            let bits = FROM_ASCII[c as usize];
            if bits < 64 {
                return Some(Cell(bits));
            }
        }
        None
    }

    /// The dot numbers joined by hyphens, "1-2-4"; the word "blank" for the blank cell.
    pub fn dot_numbers(self) -> String {
        if self.is_blank() {
            return "blank".to_owned();
        }
        let numbers: Vec<String> = self.dots().map(|dot| dot.to_string()).collect();
        numbers.join("-")
    }

    /// The cell of dot numbers ("1-2-4" or "124", in rising order), of "blank" or of "0".
    pub fn from_dot_numbers(text: &str) -> Option<Cell> {
        if text == "blank" || text == "0" {
            return Some(Cell::BLANK);
        }
        let mut cell = Cell::BLANK;
        let mut last = 0;
        for (place, c) in text.chars().enumerate() {
            if c == '-' && place > 0 {
                continue;
            }
            let dot = u8::try_from(c.to_digit(10)?).ok()?;
            if !(1..=6).contains(&dot) || dot <= last {
                return None;
            }
            last = dot;
            cell.0 |= 1 << (dot - 1);
        }
        (last > 0 && !text.ends_with('-')).then_some(cell)
    }
}

/// The inverse of [`ASCII`], with both cases and the twins.
const FROM_ASCII: [u8; 128] = {
    let mut table = [255u8; 128];
    let mut bits = 0;
    while bits < 64 {
        let c = ASCII[bits];
        table[c as usize] = bits as u8;
        table[c.to_ascii_uppercase() as usize] = bits as u8;
        bits += 1;
    }
    let twins = [(b'{', b'['), (b'|', b'\\'), (b'}', b']'), (b'~', b'^'), (b'`', b'@')];
    let mut i = 0;
    while i < twins.len() {
        table[twins[i].0 as usize] = table[twins[i].1 as usize];
        i += 1;
    }
    table
};

impl fmt::Debug for Cell {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.to_unicode())
    }
}

/// The cells of a text in braille ASCII; `None` when a character is not one of its own (line ends included).
pub fn from_ascii(text: &str) -> Option<Vec<Cell>> {
    text.chars().map(Cell::from_ascii).collect()
}

/// Cells as braille ASCII, letters in lower case.
pub fn to_ascii(cells: &[Cell]) -> String {
    cells.iter().map(|cell| cell.to_ascii()).collect()
}

/// Cells as Unicode braille patterns, the blank cell as U+2800.
pub fn to_unicode(cells: &[Cell]) -> String {
    cells.iter().map(|cell| cell.to_unicode()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notations_and_mirror() {
        for cell in Cell::all() {
            assert_eq!(Cell::from_unicode(cell.to_unicode()), Some(cell));
            assert_eq!(Cell::from_ascii(cell.to_ascii()), Some(cell));
            assert_eq!(Cell::from_ascii(cell.to_ascii_upper()), Some(cell));
            assert_eq!(Cell::from_dot_numbers(&cell.dot_numbers()), Some(cell));
            assert_eq!(cell.mirror().mirror(), cell);
        }
        assert_eq!(to_ascii(&from_ascii("e").unwrap()), "e");
        assert_eq!(from_ascii("e").unwrap()[0].mirror(), from_ascii("i").unwrap()[0]);
        assert_eq!((1..=7).map(Cell::order_line).map(|l| l.len()).sum::<usize>(), 63);
    }
}
