//! The books of the shelf: one text file a book, with a head that says what it is and after which unit it can be read.
//!
//! ```text
//! title: The red boat
//! kind: board book
//! after: first-marks
//! braille: uncontracted
//! order: 3
//! about: A boat, a bucket and a great deal of rain.
//!
//! The red boat is wet.
//!
//! Who left it out in the rain?
//! ```
//!
//! An empty line ends the head. In a board book it then parts the pages, and lines stand as they are; elsewhere a line is a
//! paragraph, a heading or a list item with CommonMark's marks, and an empty line parts them. With `lines: kept` in the head
//! (timetables, verse) every line stands as it is and an empty line stays one.

mod check;
mod list;

pub use check::{Fault, check, long_sentences};
pub use list::{Listed, parse_list, write_list};

use std::fmt;

use super::reading::Reading;
use super::units;
use crate::cell::Cell;

/// What sort of book it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A few words a page, uncontracted.
    Board,
    /// A short story, uncontracted or with the first contractions.
    Picture,
    /// A story that leans on the signs of its unit.
    Early,
    /// A long story in chapters, contracted throughout.
    Chapter,
    /// A timetable, a ledger, letters, recipes, a log, a play, verse.
    Paper,
}

impl Kind {
    /// All of them, the easiest first.
    pub const ALL: [Kind; 5] = [Kind::Board, Kind::Picture, Kind::Early, Kind::Chapter, Kind::Paper];

    /// Its name, as it stands in the head of a book.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Board => "board book",
            Kind::Picture => "picture book",
            Kind::Early => "early reader",
            Kind::Chapter => "chapter book",
            Kind::Paper => "paper",
        }
    }

    /// The fewest and the most words of a book of this kind.
    pub fn words(self) -> (usize, usize) {
        match self {
            Kind::Board => (40, 150),
            Kind::Picture => (200, 600),
            Kind::Early => (600, 1_200),
            Kind::Chapter => (3_000, 6_000),
            Kind::Paper => (80, 2_000),
        }
    }
}

/// How the print of a book stands on its sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// Every page of print is a sheet, its lines as they are.
    Pages,
    /// Paragraphs, headings and list items.
    Paragraphs,
    /// Line by line, empty lines kept.
    Lines,
}

/// What the head of a book says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Its title.
    pub title: String,
    /// What sort of book it is.
    pub kind: Kind,
    /// The place in the course, from 0, of the unit after which it can be read in full.
    pub after: usize,
    /// Contracted or uncontracted.
    pub contracted: bool,
    /// Its place among the books of its kind, from 1.
    pub order: u32,
    /// The series that it belongs to; empty for none.
    pub series: String,
    /// What it is about, in one line.
    pub about: String,
    /// How its print stands on its sheets.
    pub layout: Layout,
}

/// A book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Book {
    /// What its head says.
    pub head: Head,
    /// Its print, as it stands below the head.
    pub print: String,
    /// The line of its file where the print begins, from 1.
    pub begins: usize,
}

/// Why a book cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The line of the file, from 1.
    pub line: usize,
    /// What is wrong there.
    pub why: Why,
}

/// What is wrong with the file of a book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// A line of the head is not `name: words`.
    NoField,
    /// No field of this name is known.
    UnknownField(String),
    /// A field stands twice.
    Twice(String),
    /// A field says what it cannot say.
    Value(&'static str, String),
    /// A field is missing.
    Missing(&'static str),
    /// There is nothing below the head.
    Empty,
    /// A paragraph goes on in a second line.
    RunsOn,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: ", self.line)?;
        match &self.why {
            Why::NoField => f.write_str("write the head as 'name: words', with an empty line after it"),
            Why::UnknownField(name) => write!(f, "the head has no field '{name}'"),
            Why::Twice(name) => write!(f, "'{name}' stands twice"),
            Why::Value(name, value) => write!(f, "'{value}' can't stand after '{name}'"),
            Why::Missing(name) => write!(f, "the head needs a line '{name}: …'"),
            Why::Empty => f.write_str("there is no print below the head"),
            Why::RunsOn => {
                f.write_str("put the whole paragraph on one line, or an empty line before this one")
            }
        }
    }
}

/// A piece of the print that is transcribed on its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece<'a> {
    /// The line of the file where it stands, from 1.
    pub line: usize,
    /// The print, without the mark of a heading or an item.
    pub print: &'a str,
}

const FIELDS: [&str; 8] = ["title", "kind", "after", "braille", "order", "series", "about", "lines"];

/// Reads the file of a book.
pub fn parse(file: &str) -> Result<Book, Refusal> {
    let mut fields: [Option<(usize, &str)>; FIELDS.len()] = [None; FIELDS.len()];
    let mut begins = 1;
    for line in file.lines() {
        begins += 1;
        if line.trim().is_empty() {
            break;
        }
        let at = |why| Refusal { line: begins - 1, why };
        let (name, value) = line.split_once(':').ok_or_else(|| at(Why::NoField))?;
        let Some(field) = FIELDS.iter().position(|field| *field == name) else {
            return Err(at(Why::UnknownField(name.to_owned())));
        };
        if fields[field].replace((begins - 1, value.trim())).is_some() {
            return Err(at(Why::Twice(name.to_owned())));
        }
    }
    let head = head(&fields)?;
    let print: String = file.lines().skip(begins - 1).collect::<Vec<_>>().join("\n");
    let book = Book { head, print, begins };
    if book.print.trim().is_empty() {
        return Err(Refusal { line: begins, why: Why::Empty });
    }
    if book.head.layout == Layout::Paragraphs {
        let mut open = false;
        for (n, line) in book.print.lines().enumerate() {
            let plain = !line.is_empty() && mark(line) == 0;
            if plain && open {
                return Err(Refusal { line: begins + n, why: Why::RunsOn });
            }
            open = plain;
        }
    }
    Ok(book)
}

fn head(fields: &[Option<(usize, &str)>; FIELDS.len()]) -> Result<Head, Refusal> {
    let place = |name: &str| FIELDS.iter().position(|field| *field == name).unwrap_or_default();
    let get = |name: &'static str| fields[place(name)].filter(|(_, value)| !value.is_empty());
    let need = |name: &'static str| get(name).ok_or(Refusal { line: 1, why: Why::Missing(name) });
    let refuse = |name: &'static str, (line, value): (usize, &str)| Refusal {
        line,
        why: Why::Value(name, value.to_owned()),
    };
    let kind = need("kind")?;
    let after = need("after")?;
    let braille = need("braille")?;
    let order = need("order")?;
    let kind_of = Kind::ALL.into_iter().find(|one| one.name() == kind.1);
    let kind = kind_of.ok_or_else(|| refuse("kind", kind))?;
    Ok(Head {
        title: need("title")?.1.to_owned(),
        kind,
        after: units::units()
            .iter()
            .position(|unit| unit.id == after.1)
            .ok_or_else(|| refuse("after", after))?,
        contracted: match braille.1 {
            "contracted" => true,
            "uncontracted" => false,
            _ => return Err(refuse("braille", braille)),
        },
        order: order.1.parse().ok().filter(|n| *n > 0).ok_or_else(|| refuse("order", order))?,
        series: get("series").map_or(String::new(), |(_, value)| value.to_owned()),
        about: need("about")?.1.to_owned(),
        layout: match (get("lines"), kind) {
            (None, Kind::Board) => Layout::Pages,
            (None, _) => Layout::Paragraphs,
            (Some((_, "kept")), _) => Layout::Lines,
            (Some(value), _) => return Err(refuse("lines", value)),
        },
    })
}

/// How many bytes the mark of a heading or a bulleted item takes at the beginning of a line; a number stays, since print
/// shows it, so that a numbered item counts as marked by its first blank alone.
fn mark(line: &str) -> usize {
    let blanks = line.len() - line.trim_start_matches(' ').len();
    let rest = &line[blanks..];
    let hashes = rest.bytes().take_while(|byte| *byte == b'#').count();
    if (1..=6).contains(&hashes) && rest[hashes..].starts_with(' ') {
        return blanks + hashes + 1;
    }
    if ["- ", "* ", "+ "].iter().any(|bullet| rest.starts_with(bullet)) { blanks + 2 } else { 0 }
}

impl Book {
    /// The pieces of print that are transcribed each on its own, in order.
    pub fn pieces(&self) -> impl Iterator<Item = Piece<'_>> {
        let marked = self.head.layout != Layout::Pages;
        self.print.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()).map(move |(n, line)| {
            Piece { line: self.begins + n, print: &line[if marked { mark(line) } else { 0 }..] }
        })
    }

    /// The book on its sheets; `braille` gives the cells of its pieces, in order.
    pub fn reading(&self, braille: &mut dyn FnMut(&str) -> Vec<Cell>) -> Reading {
        let Head { title, contracted, .. } = &self.head;
        match self.head.layout {
            Layout::Pages => {
                let mut pages: Vec<Vec<&str>> = vec![Vec::new()];
                for line in self.print.lines().map(str::trim) {
                    match pages.last_mut() {
                        Some(page) if !line.is_empty() => page.push(line),
                        Some(page) if !page.is_empty() => pages.push(Vec::new()),
                        _ => {}
                    }
                }
                pages.retain(|page| !page.is_empty());
                Reading::of_pages(title, &pages, *contracted, braille)
            }
            Layout::Paragraphs => Reading::set(title, &self.print, *contracted, braille),
            Layout::Lines => Reading::of_lines(title, &self.print, *contracted, braille),
        }
    }

    /// How many words it has: what stands between blanks and holds a letter or a digit.
    pub fn words(&self) -> usize {
        self.pieces()
            .flat_map(|piece| piece.print.split_whitespace())
            .filter(|word| word.chars().any(char::is_alphanumeric))
            .count()
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use std::collections::{BTreeMap, BTreeSet, HashMap};

    /// Every book of the shelf with its file's name.
    pub(crate) fn shelf() -> Vec<(String, Book)> {
        let folder = format!("{}/www/data/shelf", env!("CARGO_MANIFEST_DIR"));
        let mut names: Vec<String> = std::fs::read_dir(&folder)
            .expect("the shelf")
            .map(|entry| entry.expect("a file").file_name().into_string().expect("a plain name"))
            .collect();
        names.sort();
        names
            .into_iter()
            .map(|name| {
                let file = std::fs::read_to_string(format!("{folder}/{name}")).expect("a text file");
                let book = parse(&file).unwrap_or_else(|refusal| panic!("{name}, {refusal}"));
                (name, book)
            })
            .collect()
    }

    #[test]
    fn every_book_of_the_shelf_is_what_its_head_says() {
        let wrong: Vec<String> = shelf()
            .iter()
            .flat_map(|(name, book)| check(book).into_iter().map(move |fault| format!("{name}, {fault}")))
            .collect();
        assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
    }

    /// On its sheets a book has the cells of its pieces, all of them and in order, and no line is too long.
    #[test]
    fn every_book_stands_whole_on_its_sheets() {
        use crate::ueb::{self, Options};
        for (name, book) in shelf() {
            let options = Options { contracted: book.head.contracted, marks: true, ..Options::default() };
            let mut braille = |print: &str| ueb::transcribe(print, &options);
            let reading = book.reading(&mut braille);
            let pages: Vec<_> = (0..reading.count()).map(|page| reading.page(page)).collect();
            let on_sheets: Vec<Cell> = pages
                .iter()
                .flat_map(|page| page.iter())
                .flat_map(|line| line.cells.iter().copied())
                .filter(|cell| !cell.is_blank())
                .collect();
            let of_pieces: Vec<Cell> = book
                .pieces()
                .flat_map(|piece| braille(piece.print))
                .filter(|cell| !cell.is_blank())
                .collect();
            assert_eq!(on_sheets, of_pieces, "{name}");
            assert!(
                (0..pages.len()).all(|page| reading.width(page) <= crate::practice::reading::WIDTH),
                "{name}"
            );
            assert!(pages.iter().all(|page| !page.is_empty()), "{name} has an empty sheet");
            if book.head.layout == Layout::Pages {
                let of_print = book.print.split("\n\n").filter(|page| !page.trim().is_empty()).count();
                assert_eq!(pages.len(), of_print, "{name}");
            }
        }
    }

    /// The list of the shelf says of each book what its file says, and which signs it has.
    #[test]
    fn the_list_of_the_shelf_is_that_of_its_books() {
        let files: Vec<(String, String)> = shelf()
            .into_iter()
            .map(|(name, _)| {
                let path = format!("{}/www/data/shelf/{name}", env!("CARGO_MANIFEST_DIR"));
                (name, std::fs::read_to_string(path).expect("a text file"))
            })
            .collect();
        let listed = parse_list(&write_list(&files).expect("every book can be read"));
        assert_eq!(listed.len(), files.len());
        for (one, (name, book)) in listed.iter().zip(shelf()) {
            assert_eq!((&one.file, &one.head.title, one.words), (&name, &book.head.title, book.words()));
            assert_eq!((one.head.kind, one.head.after), (book.head.kind, book.head.after));
            assert!(one.signs.iter().all(|key| units::unit_of(key) <= Some(book.head.after)), "{name}");
            assert!(one.signs.contains(&"letter e"), "{name}");
        }
        assert_eq!(
            write_list(&[("x.txt".into(), "title: A\n\nB".into())]).map_err(|(name, _)| name),
            Err("x.txt".into())
        );
        assert!(parse_list("nonsense\n\tmore\n").is_empty());
    }

    #[test]
    fn titles_and_places_are_given_once() {
        let (mut titles, mut places) = (BTreeSet::new(), BTreeSet::new());
        for (name, book) in shelf() {
            assert!(titles.insert(book.head.title.clone()), "{name}: the title stands twice");
            assert!(places.insert((book.head.kind, book.head.order)), "{name}: its place is taken");
        }
    }

    #[test]
    fn no_long_sentence_stands_twice_on_the_shelf() {
        let mut seen: HashMap<String, String> = HashMap::new();
        for (name, book) in shelf() {
            for (line, sentence) in long_sentences(&book) {
                let here = format!("{name}, line {line}");
                if let Some(there) = seen.insert(sentence.clone(), here.clone()) {
                    panic!("{here} says what {there} says: {sentence}");
                }
            }
        }
    }

    #[test]
    fn there_are_as_many_books_and_words_as_there_should_be() {
        let mut counts: BTreeMap<Kind, (usize, usize)> = BTreeMap::new();
        for (_, book) in shelf() {
            let count = counts.entry(book.head.kind).or_default();
            *count = (count.0 + 1, count.1 + book.words());
        }
        let kinds = [
            (Kind::Board, 16),
            (Kind::Picture, 14),
            (Kind::Early, 14),
            (Kind::Chapter, 5),
            (Kind::Paper, 10),
        ];
        for (kind, books) in kinds {
            let count = counts.get(&kind).map_or(0, |count| count.0);
            assert!(count >= books, "{count} of {books} of the kind {}", kind.name());
        }
        let words: usize = counts.values().map(|(_, words)| words).sum();
        assert!(words >= 45_000, "{words} words");
        // An early reader for each group of contractions.
        let groups: BTreeSet<usize> = shelf()
            .iter()
            .filter(|(_, book)| book.head.kind == Kind::Early)
            .map(|(_, book)| book.head.after)
            .collect();
        assert_eq!(groups.len(), 14, "units with an early reader");
    }

    #[test]
    fn what_a_file_has_wrong_is_told_with_its_line() {
        let good = "title: A\nkind: paper\nafter: numbers\nbraille: contracted\norder: 1\nabout: B.\n\nOne.\n\n- two\n";
        let book = parse(good).expect("it can be read");
        assert_eq!((book.begins, book.words(), book.head.layout), (8, 2, Layout::Paragraphs));
        let pieces: Vec<(usize, &str)> = book.pieces().map(|piece| (piece.line, piece.print)).collect();
        assert_eq!(pieces, [(8, "One."), (10, "two")]);
        for (old, new, line, why) in [
            ("kind: paper", "kind paper", 2, Why::NoField),
            ("kind: paper", "sort: paper", 2, Why::UnknownField("sort".into())),
            ("kind: paper", "title: A", 2, Why::Twice("title".into())),
            ("kind: paper", "kind: scroll", 2, Why::Value("kind", "scroll".into())),
            ("numbers", "never", 3, Why::Value("after", "never".into())),
            ("order: 1", "order: 0", 5, Why::Value("order", "0".into())),
            ("title: A\n", "", 1, Why::Missing("title")),
            ("One.\n\n- two\n", "", 8, Why::Empty),
            ("One.\n\n- two", "One.\ntwo", 9, Why::RunsOn),
        ] {
            assert_eq!(parse(&good.replace(old, new)), Err(Refusal { line, why }), "{new}");
        }
    }
}
