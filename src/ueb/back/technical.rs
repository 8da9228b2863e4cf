//! Signs of grade 1 mode that literary text may hold: fractions, radicals, arrows and shapes (11.3 to 11.7); lines and
//! guide dots (16); and passages in other codes, whose cells are kept (14).

use super::scripts::Enclosure;
use super::word::{Before, Word};
use crate::ueb::{Remark, SignId};

/// The roots that end an arrow, by its direction: east, west, north, south and between (11.6).
const DIRECTIONS: &[u8; 8] = b"o[+%s:<>";

/// Arrows with print of their own: what stands between the indicator and the direction, and the arrows by direction
/// (a blank where there is none).
const ARROWS: [(&str, &str); 14] = [
    ("", "→←↑↓↗↖↘↙"),
    ("r", "→←↑↓↗↖↘↙"),
    ("3", "→←↑↓↗↖↘↙"),
    ("33", "⟶⟵    "),
    ("333", "⟶⟵    "),
    ("7", "⇒⇐⇑⇓⇗⇖⇘⇙"),
    ("77", "⟹⟸    "),
    ("777", "⟹⟸    "),
    ("1", "⇢⇠⇡⇣    "),
    ("11", "⇢⇠⇡⇣    "),
    ("111", "⇢⇠⇡⇣    "),
    ("wr", "↔↔↕↕⤢⤡⤡⤢"),
    ("w7r", "⇔⇔⇕⇕    "),
    ("4", "   ↵    "),
];

/// Shapes with print of their own: the root, the shape and the filled shape (11.7).
const SHAPES: [(&str, &str, &str); 5] =
    [("=", "○", "●"), ("#c", "△", "▲"), ("#d", "□", "■"), ("#e", "⬠", "⬟"), ("#f", "⬡", "⬢")];

/// A bound on what is looked through for one sign, which keeps reading linear.
const REACH: usize = 24;

impl Word<'_> {
    /// Such a sign; false when there is none here.
    pub(super) fn technical(&mut self) -> bool {
        let (i, c) = (self.i, self.at(self.i));
        let keys = &self.t.keys;
        match c {
            b'@' if self.has(i, "@$") => self.own_shape(),
            b'_' if self.has(i, "_$") => self.shape(2, keys.shape_filled, true),
            b'.' if self.has(i, "./") => return self.over(),
            b'"' if self.has(i, "\"3") => return self.drawn_line(),
            b'"' if i == 0 && self.has(i, "\"\"\"") && self.cells.iter().all(|c| c.to_ascii() == '"') => {
                let sign = self.t.keys.guide_dots;
                self.as_cells(self.cells.len(), sign, "16.5", Remark::None);
            }
            b'^' if self.has(i, "^\\") => return self.arrow(2),
            _ if !self.grade1() => return false,
            b'\\' => return self.arrow(1),
            b'$' => self.shape(1, keys.shape, false),
            b'(' => self.fraction_opens(),
            b')' => return self.close(c),
            b'%' => self.radical(),
            b'+' => return self.close(c),
            b'!' => self.graphic(1, "∫", keys.integral, Before::Other),
            b'?' => {
                self.as_cells(1, keys.own_symbol, "3.26", Remark::None);
                self.after(Before::Other);
            }
            _ => return false,
        }
        true
    }

    fn arrow(&mut self, indicator: usize) -> bool {
        let i = self.i;
        let sign = if indicator == 1 { self.t.keys.arrow } else { self.t.keys.bold_arrow };
        let from = i + indicator;
        let middle = |c: u8| {
            matches!(
                c,
                b'r' | b'w'
                    | b'y'
                    | b'&'
                    | b'\\'
                    | b'@'
                    | b','
                    | b'1'
                    | b'3'
                    | b'7'
                    | b'4'
                    | b'5'
                    | b'9'
                    | b'0'
            )
        };
        let Some(end) = (from..from + REACH).find(|&k| !middle(self.at(k))) else { return false };
        let Some(direction) = DIRECTIONS.iter().position(|&d| d == self.at(end)) else { return false };
        let len = end + 1 - i;
        let found = ARROWS.iter().find(|(between, _)| between.len() == end - from && self.has(from, between));
        let arrows = match (indicator, found) {
            (2, Some(("", _))) => "➡⬅⬆⬇⬈⬉⬊⬋",
            (1, Some((_, arrows))) => arrows,
            _ => "",
        };
        match arrows.chars().nth(direction).filter(|&arrow| arrow != ' ') {
            Some(arrow) => self.graphic(len, arrow.encode_utf8(&mut [0; 4]), sign, Before::Other),
            None => {
                self.as_cells(len, sign, "11.6", Remark::None);
                self.after(Before::Other);
            }
        }
        true
    }

    /// A shape whose indicator has `indicator` cells.
    fn shape(&mut self, indicator: usize, sign: Option<SignId>, filled: bool) {
        let from = self.i + indicator;
        let root = if self.at(from) == b'#' {
            1 + (from + 1..from + 3).take_while(|&k| super::number::digit(self.at(k)).is_some()).count()
        } else {
            usize::from(self.at(from) == b'=')
        };
        let found = SHAPES.iter().find(|shape| shape.0.len() == root && self.has(from, shape.0));
        match found {
            Some(shape) => {
                self.graphic(indicator + root, if filled { shape.2 } else { shape.1 }, sign, Before::Other);
            }
            None if root > 0 => {
                self.as_cells(indicator + root, sign, "11.7", Remark::None);
                self.after(Before::Other);
            }
            None => return self.unknown(indicator),
        }
        self.shape_ends();
    }

    /// After a shape: its terminator, or what it encloses.
    fn shape_ends(&mut self) {
        if self.at(self.i) == b':' {
            self.indicator(1, self.t.keys.shape_terminator, "11.7.1");
        } else if self.at(self.i) == b'[' {
            self.indicator(1, self.t.keys.enclosure, "11.7.3");
            self.grade1_next = true;
        }
    }

    /// A shape that a transcriber defines: letters up to a blank or the terminator (11.7.2).
    fn own_shape(&mut self) {
        self.as_cells(2, self.t.keys.shape_own, "11.7.2", Remark::None);
        self.after(Before::Other);
        while let Some((letter, sign)) =
            self.cells.get(self.i).and_then(|c| self.t.letters[usize::from(c.bits())])
        {
            self.graphic(1, letter.encode_utf8(&mut [0; 4]), Some(sign), Before::Letter);
        }
        self.shape_ends();
    }

    /// Whether what stands from `i` up to one of `ends` is more than one item, so that print needs brackets.
    fn several(&self, i: usize, ends: &[&str]) -> bool {
        for k in i..i + REACH {
            if ends.iter().any(|end| self.has(k, end)) {
                return false;
            }
            let operator = self.at(k) == b'"' && matches!(self.at(k + 1), b'6' | b'7' | b'8' | b'/' | b'-');
            if operator || matches!(self.at(k), 0 | b'-' | b'(' | b'%') {
                return true;
            }
        }
        true
    }

    /// An opening or closing sign of a fraction or a root: a mark when marks are asked for, else `plain`.
    fn boundary(&mut self, len: usize, mark: &str, plain: &str, sign: Option<SignId>) {
        if self.options.marks {
            self.out.put(self.i, self.i + len, mark, sign, "", Remark::None);
            self.i += len;
            self.after(Before::Other);
        } else {
            self.graphic(len, plain, sign, Before::Other);
        }
    }

    fn fraction_opens(&mut self) {
        let brackets = self.several(self.i + 1, &["./"]);
        self.boundary(1, "{", if brackets { "(" } else { "" }, self.t.keys.fraction_open);
        self.enclosures.push(Enclosure::Fraction(brackets));
    }

    /// The line of a general fraction (11.3.4).
    fn over(&mut self) -> bool {
        let Some(Enclosure::Fraction(numerator)) = self.enclosures.last().copied() else { return false };
        let denominator = self.several(self.i + 2, &[";)", ")"]);
        let print = [if numerator { ")" } else { "" }, "⁄", if denominator { "(" } else { "" }].concat();
        self.boundary(2, "}⁄{", &print, self.t.keys.fraction_over);
        self.enclosures.pop();
        self.enclosures.push(Enclosure::Fraction(denominator));
        true
    }

    /// A square root; other roots have their index before them in print (11.5).
    fn radical(&mut self) {
        let i = self.i;
        let mut len = 1;
        let mut sign = "√".to_owned();
        if self.at(i + 1) == b'9' {
            let number = usize::from(self.at(i + 2) == b'#');
            let index: String = (i + 2 + number..i + 5)
                .map_while(|k| {
                    let c = self.at(k);
                    if number > 0 {
                        super::number::digit(c)
                    } else {
                        char::from(c).is_ascii_lowercase().then_some(char::from(c)).filter(|_| k == i + 2)
                    }
                })
                .collect();
            if !index.is_empty() {
                len += 1 + number + index.len();
                sign = match index.as_str() {
                    _ if self.options.marks => format!("^{{{index}}}√"),
                    "3" => "∛".to_owned(),
                    "4" => "∜".to_owned(),
                    _ => format!("{index}√"),
                };
            }
        }
        let brackets = self.several(i + len, &["+"]);
        let plain = format!("{sign}{}", if brackets { "(" } else { "" });
        self.boundary(len, &format!("{sign}{{"), &plain, self.t.keys.radical_open);
        self.enclosures.push(Enclosure::Radical(brackets));
    }

    /// The end of a fraction or a radical.
    fn close(&mut self, c: u8) -> bool {
        let (brackets, sign) = match (self.enclosures.last(), c) {
            (Some(&Enclosure::Fraction(brackets)), b')') => (brackets, self.t.keys.fraction_close),
            (Some(&Enclosure::Radical(brackets)), b'+') => (brackets, self.t.keys.radical_close),
            _ => return false,
        };
        self.enclosures.pop();
        self.boundary(1, "}", if brackets { ")" } else { "" }, sign);
        true
    }

    /// A line drawn with cells, which fills its run (16.2).
    fn drawn_line(&mut self) -> bool {
        let line = |c: u8| match c {
            b'3' => Some('─'),
            b'1' => Some('┄'),
            b'7' => Some('═'),
            b'=' => Some('≡'),
            b'j' => Some('┘'),
            b'4' => Some('┐'),
            b'w' => Some('┼'),
            b'<' => Some('╲'),
            b'>' => Some('╱'),
            b'\'' => Some(' '),
            _ => None,
        };
        let cells = &self.cells[self.i + 2..];
        if self.i > 0 || cells.is_empty() || !cells.iter().all(|c| line(c.to_ascii() as u8).is_some()) {
            return false;
        }
        let sign = self.t.keys.horizontal_line;
        let print: String = cells.iter().filter_map(|c| line(c.to_ascii() as u8)).collect();
        self.graphic(self.cells.len(), print.trim_end(), sign, Before::Other);
        true
    }

    /// An indicator that another code begins (14.2, 14.3); false when there is none here.
    pub(super) fn other_code(&mut self) -> bool {
        let i = self.i;
        if self.has(i, "\"(") {
            let Some(end) = (i + 2..i + 10).find(|&k| self.at(k) == b'\'') else { return false };
            if (i + 2..end).any(|k| !self.at(k).is_ascii_lowercase()) {
                return false;
            }
            self.indicator(end + 1 - i, self.t.keys.other_code, "14.2");
            self.mode.other_code = true;
            return true;
        }
        if self.has(i, "^(") {
            self.indicator(2, self.t.keys.other_code_word, "14.3");
            let cells = &self.cells[self.i..];
            let end = cells.windows(2).position(|two| two[0].to_ascii() == '^' && two[1].to_ascii() == ')');
            let len = end.unwrap_or(cells.len());
            if len > 0 {
                self.as_cells(len, self.t.keys.other_code_word, "14.3", Remark::None);
            }
            if end.is_some() {
                self.indicator(2, self.t.keys.other_code_word_end, "14.3");
            }
            self.after(Before::Other);
            return true;
        }
        false
    }

    /// Cells of a passage in another code, kept as they are, up to its end.
    pub(super) fn in_other_code(&mut self) {
        let cells = &self.cells[self.i..];
        let end = cells.windows(3).position(|three| three.iter().map(|c| c.to_ascii()).eq(",\")".chars()));
        let len = end.unwrap_or(cells.len());
        if len > 0 {
            self.as_cells(len, self.t.keys.other_code, "14.2", Remark::None);
        }
        if end.is_some() {
            self.indicator(3, self.t.keys.other_code_end, "14.2");
            self.mode.other_code = false;
        }
        self.after(Before::Other);
    }
}
