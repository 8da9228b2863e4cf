//! Graded texts of the Skerry Line: read from a data file, each with the unit after which it can be read in full.

use super::reading::Reading;
use super::supply::level_of_line;
use super::units;
use crate::cell::Cell;
use crate::manuscript::source;

/// A text to read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Passage {
    /// Its title.
    pub title: String,
    /// Contracted or uncontracted.
    pub contracted: bool,
    /// The place in the course, from 0, of the unit after which it can be read in full.
    pub unit: usize,
    /// The print: lines that stand as they are, or, with an empty line or a heading in it, paragraphs.
    pub text: String,
}

impl Passage {
    /// The text laid out for reading; `braille` gives the cells of its pieces, in order.
    pub fn set(&self, braille: &mut dyn FnMut(&str) -> Vec<Cell>) -> Reading {
        Reading::set(&self.title, &self.text, self.contracted, braille)
    }
}

/// Reads the texts of a data file. A text begins with a head, `== title | contracted | unit`, where the second word is
/// "contracted" or "uncontracted" and the third is a unit's id; a head that cannot be read leaves its text out.
pub fn parse(file: &str) -> Vec<Passage> {
    file.split("\n== ")
        .skip(1)
        .filter_map(|block| {
            let (head, text) = block.split_once('\n')?;
            let mut head = head.split(" | ");
            let (title, kind, unit) = (head.next()?, head.next()?, head.next()?.trim());
            Some(Passage {
                title: title.to_owned(),
                contracted: match kind {
                    "contracted" => true,
                    "uncontracted" => false,
                    _ => return None,
                },
                unit: units::units().iter().position(|one| one.id == unit)?,
                text: text.trim().to_owned(),
            })
        })
        .collect()
}

/// Whether a text is set in paragraphs (an empty line or a heading in it), and not line by line.
pub fn in_paragraphs(text: &str) -> bool {
    text.contains("\n\n") || text.starts_with("# ") || text.contains("\n# ") || text.contains("\n## ")
}

/// The pieces of print that are transcribed each on its own: paragraphs, headings and list items without their marks,
/// or the lines of a text that is set line by line.
pub fn pieces(text: &str) -> Vec<String> {
    if in_paragraphs(text) {
        source::read(text).1.into_iter().map(|block| block.print).collect()
    } else {
        text.lines().filter(|line| !line.trim().is_empty()).map(str::to_owned).collect()
    }
}

/// The place in the course of the unit after which a text can be read in full, from 0; the number of units when it
/// has a sign that the course does not teach.
pub fn level(text: &str, contracted: bool) -> usize {
    pieces(text).iter().map(|line| level_of_line(line, contracted)).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ueb::{self, Options, ReadOptions, register};

    /// The texts as they are shipped.
    fn shipped() -> Vec<Passage> {
        parse(&super::super::supply::tests::file("passages.txt"))
    }

    #[test]
    fn there_are_as_many_and_as_long_ones_as_there_should_be() {
        let file = super::super::supply::tests::file("passages.txt");
        let all = shipped();
        assert_eq!(all.len(), file.matches("\n== ").count(), "a head cannot be read");
        assert!(all.len() >= 40, "{} passages", all.len());
        let words = |p: &Passage| p.text.split_whitespace().count();
        let boards = all.iter().filter(|p| !p.contracted && words(p) <= 60).count();
        assert!(boards >= 20, "{boards} short uncontracted texts");
        let long: Vec<&Passage> = all.iter().filter(|p| p.contracted && words(p) >= 600).collect();
        assert!(long.len() >= 5, "{} long texts", long.len());
        for p in &long {
            let has = |what: &str, holds: bool| assert!(holds, "{} has no {what}", p.title);
            has("heading", p.text.contains("# "));
            has("number", p.text.contains(|c: char| c.is_ascii_digit()));
            has("quotation", p.text.contains('"'));
            has("emphasis", p.text.contains('*'));
        }
        let somewhere = |what: &str| long.iter().filter(|p| p.text.contains(what)).count();
        assert!(somewhere("£") >= 3 && somewhere(":") >= 4, "prices and times");
        let mut titles: Vec<&str> = all.iter().map(|p| p.title.as_str()).collect();
        titles.sort_unstable();
        titles.dedup();
        assert_eq!(titles.len(), all.len(), "two texts of one title");
    }

    /// Lines without a gap that a unit can give to write: all their signs are taught by then, and one of them is new. Ten
    /// for each unit, twenty for each of the later ones; typeforms are not in plain lines, and a unit of rules alone has
    /// no signs, so its lines are those of everything before it.
    #[test]
    fn there_are_lines_to_write_for_each_unit() {
        let file = super::super::supply::tests::file("frames.txt");
        let lines = file
            .lines()
            .filter(|line| !line.starts_with("# ") && !line.contains(['{', '=']) && !line.is_empty());
        let contractions = units::units().iter().position(|unit| unit.id == "wordsigns-1").expect("a unit");
        let later = units::units().iter().position(|unit| unit.id == "numbers").expect("a unit");
        let mut counts = vec![0; units::units().len() + 1];
        for line in lines {
            let level = level_of_line(line, true);
            counts[level] += usize::from(level >= contractions);
            let level = level_of_line(line, false);
            counts[level] += usize::from(level < contractions);
        }
        for (n, unit) in units::units().iter().enumerate() {
            if unit.id == "typeforms" || unit.signs.is_empty() {
                continue;
            }
            let wanted = if n < later { 10 } else { 20 };
            assert!(counts[n] >= wanted, "{}: {} lines of {wanted}", unit.id, counts[n]);
        }
    }

    #[test]
    fn no_text_uses_a_sign_before_its_unit() {
        let mut wrong = Vec::new();
        for passage in shipped() {
            let mut last = (0, "", String::new());
            for piece in pieces(&passage.text) {
                let options = Options { contracted: passage.contracted, marks: true, ..Options::default() };
                let explained = ueb::explain(&piece, &options);
                assert!(explained.unhandled.is_empty(), "{}: {:?}", passage.title, explained.unhandled);
                for used in &explained.signs {
                    let key = register::get(used.sign).key;
                    let unit = units::unit_of(key).unwrap_or(units::units().len());
                    if key != "space" && unit > last.0 {
                        let from = piece.chars().skip(used.print.start).take(12).collect();
                        last = (unit, key, from);
                    }
                }
            }
            assert_eq!(last.0, level(&passage.text, passage.contracted));
            if last.0 > passage.unit {
                let is = units::units().get(last.0).map_or("beyond", |unit| unit.id);
                let said = units::units()[passage.unit].id;
                wrong.push(format!("{} | {said}: is {is} by {} at {:?}", passage.title, last.1, last.2));
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn every_text_reads_back_to_its_print() {
        for passage in shipped() {
            let options = Options { contracted: passage.contracted, marks: true, ..Options::default() };
            let back = ReadOptions {
                contracted: passage.contracted,
                older: false,
                marks: true,
                ..ReadOptions::default()
            };
            for piece in pieces(&passage.text) {
                let cells = ueb::transcribe(&piece, &options);
                let again = ueb::transcribe(&ueb::read_print(&cells, &back), &options);
                assert_eq!(cells, again, "{}: {piece}\n{}", passage.title, ueb::read_print(&cells, &back));
            }
        }
    }
}
