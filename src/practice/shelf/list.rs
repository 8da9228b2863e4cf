//! The list of the shelf: of each book what its head says, how long it is and which signs it has. It is made when the page
//! is built, so that the shelf stands before a book is fetched.

use std::fmt::Write as _;

use super::{Book, Head, Kind, Layout, Refusal, parse};
use crate::practice::units;
use crate::ueb::{self, Options, register};

/// A book on the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Its file, without the folder.
    pub file: String,
    /// What its head says.
    pub head: Head,
    /// How many words it has.
    pub words: usize,
    /// How many bytes its file has.
    pub bytes: usize,
    /// The keys of the course's signs that stand in it, in the order of the course.
    pub signs: Vec<&'static str>,
}

/// The signs of the course, in its order.
fn taught() -> impl Iterator<Item = &'static str> {
    units::units().iter().flat_map(|unit| unit.signs.iter().copied())
}

/// Which of the course's signs stand in a book: one letter for four of them, `a` for none, `p` for all.
fn signs_of(book: &Book) -> String {
    let options = Options { contracted: book.head.contracted, marks: true, ..Options::default() };
    let used: std::collections::HashSet<&str> = book
        .pieces()
        .flat_map(|piece| ueb::explain(piece.print, &options).signs)
        .map(|used| register::get(used.sign).key)
        .collect();
    let stands: Vec<bool> = taught().map(|key| used.contains(key)).collect();
    stands
        .chunks(4)
        .map(|four| {
            let bits = four.iter().enumerate().map(|(place, stands)| u8::from(*stands) << place).sum::<u8>();
            char::from(b'a' + bits)
        })
        .collect()
}

/// The list of these books, given by the names of their files and what stands in them; a line a book, parted by tabs.
///
/// A book that cannot be read is told with its file.
pub fn write_list(files: &[(String, String)]) -> Result<String, (String, Refusal)> {
    let mut list = String::new();
    for (file, text) in files {
        let book = parse(text).map_err(|refusal| (file.clone(), refusal))?;
        let head = &book.head;
        let _ = writeln!(
            list,
            "{file}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}",
            head.title,
            head.kind.name(),
            units::units()[head.after].id,
            if head.contracted { "contracted" } else { "uncontracted" },
            head.order,
            head.series,
            head.about,
            book.words(),
            text.len(),
            signs_of(&book),
        );
    }
    Ok(list)
}

/// Reads what [`write_list`] has written; a line that cannot be read is left out.
pub fn parse_list(list: &str) -> Vec<Listed> {
    list.lines().filter_map(listed).collect()
}

fn listed(line: &str) -> Option<Listed> {
    let fields: Vec<&str> = line.split('\t').collect();
    let [file, title, kind, after, braille, order, series, about, words, bytes, signs] = fields[..] else {
        return None;
    };
    let stands = |place: usize| {
        let bits = signs.as_bytes().get(place / 4).map_or(0, |letter| letter.wrapping_sub(b'a'));
        bits & (1 << (place % 4)) != 0
    };
    Some(Listed {
        file: file.to_owned(),
        head: Head {
            title: title.to_owned(),
            kind: Kind::ALL.into_iter().find(|one| one.name() == kind)?,
            after: units::units().iter().position(|unit| unit.id == after)?,
            contracted: braille == "contracted",
            order: order.parse().ok()?,
            series: series.to_owned(),
            about: about.to_owned(),
            // The file itself says it when it is opened.
            layout: Layout::Paragraphs,
        },
        words: words.parse().ok()?,
        bytes: bytes.parse().ok()?,
        signs: taught().enumerate().filter(|(place, _)| stands(*place)).map(|(_, key)| key).collect(),
    })
}
