//! `cellwright shelf`: whether drafts of books for the shelf are what their heads say, and what stands on it.

use std::ffi::OsString;
use std::fmt::Write as _;
use std::path::Path;
use std::process::ExitCode;

use cellwright::practice::supply::level_of_line;
use cellwright::practice::{passages, shelf, units};

use super::Failure;
use super::stream;

/// Runs the command; the exit status is 1 when a book has a fault.
pub fn run(mut args: lexopt::Parser) -> Result<ExitCode, Failure> {
    use lexopt::prelude::*;
    let mut files: Vec<OsString> = Vec::new();
    while let Some(arg) = args.next()? {
        match arg {
            Value(file) => files.push(file),
            _ => return Err(arg.unexpected().into()),
        }
    }
    if files.is_empty() {
        stream::print(&counts(Path::new("www/data"))?)?;
        return Ok(ExitCode::SUCCESS);
    }
    let (mut faulty, mut words, mut out) = (false, 0, String::new());
    for file in &files {
        let name = file.to_string_lossy();
        let text =
            std::fs::read_to_string(file).map_err(|error| Failure::Outside(format!("{name}: {error}")))?;
        let book = shelf::parse(&text).map_err(|refusal| Failure::Outside(format!("{name}, {refusal}")))?;
        let faults = shelf::check(&book);
        faulty |= !faults.is_empty();
        words += book.words();
        out += &format!(
            "{name}: {}, {} words, after {}, {} to mend\n",
            book.head.kind.name(),
            book.words(),
            units::units()[book.head.after].id,
            faults.len()
        );
        out.extend(faults.iter().map(|fault| format!("  {fault}\n")));
    }
    out += &format!("{} books, {words} words\n", files.len());
    stream::print(&out)?;
    Ok(if faulty { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}

/// What can be read and written: its title, how many words it has, and the unit after which it can be read in full.
struct Text {
    title: String,
    kind: &'static str,
    words: usize,
    level: usize,
}

fn text_of(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|error| Failure::Outside(format!("{}: {error}", path.display())))
}

/// Every text and book of a data folder.
fn texts(data: &Path) -> Result<Vec<Text>, Failure> {
    let mut all: Vec<Text> = passages::parse(&text_of(&data.join("passages.txt"))?)
        .into_iter()
        .map(|passage| Text {
            words: passage.text.split_whitespace().count(),
            level: passages::level(&passage.text, passage.contracted),
            title: passage.title,
            kind: "text of the course",
        })
        .collect();
    let folder = data.join("shelf");
    let entries = std::fs::read_dir(&folder)
        .map_err(|error| Failure::Outside(format!("{}: {error}", folder.display())))?;
    let mut files: Vec<_> = entries.filter_map(|entry| entry.ok().map(|entry| entry.path())).collect();
    files.sort();
    for file in files {
        let book = shelf::parse(&text_of(&file)?)
            .map_err(|refusal| Failure::Outside(format!("{}, {refusal}", file.display())))?;
        let pieces = book.pieces().map(|piece| level_of_line(piece.print, book.head.contracted));
        all.push(Text {
            level: pieces.max().unwrap_or(0),
            words: book.words(),
            kind: book.head.kind.name(),
            title: book.head.title,
        });
    }
    Ok(all)
}

/// What stands on the shelf: words by kind; after each unit how many texts, words and lines to write there are for it; and of
/// each text the first unit after which it can be read in full.
fn counts(data: &Path) -> Result<String, Failure> {
    let (all, units) = (texts(data)?, units::units());
    let id = |level: usize| units.get(level).map_or("no unit", |unit| unit.id);
    let mut lines = vec![0usize; units.len() + 1];
    let contracted = units.iter().position(|unit| unit.id == "wordsigns-1").unwrap_or(units.len());
    for line in text_of(&data.join("frames.txt"))?
        .lines()
        .filter(|line| !line.starts_with("# ") && !line.contains(['{', '=']) && !line.is_empty())
    {
        // Uncontracted lines are for the units before the first contractions.
        let (with, without) = (level_of_line(line, true), level_of_line(line, false));
        lines[if without < contracted { without } else { with }] += 1;
        if with >= contracted && without < contracted {
            lines[with] += 1;
        }
    }
    let mut out = String::new();
    let mut kinds: Vec<&str> = all.iter().map(|text| text.kind).collect();
    kinds.dedup();
    for kind in kinds {
        let of = || all.iter().filter(|text| text.kind == kind);
        let words: usize = of().map(|text| text.words).sum();
        let _ = writeln!(out, "{kind}: {} with {words} words", of().count());
    }
    let words: usize = all.iter().map(|text| text.words).sum();
    let _ = writeln!(
        out,
        "{} texts and books, {words} words\n\nunit\ttexts\twords\twords till then\tlines to write",
        all.len()
    );
    let mut till_then = 0;
    for (n, unit) in units.iter().enumerate() {
        let of = || all.iter().filter(|text| text.level == n);
        let words: usize = of().map(|text| text.words).sum();
        till_then += words;
        let _ = writeln!(out, "{} {}\t{}\t{words}\t{till_then}\t{}", n + 1, unit.id, of().count(), lines[n]);
    }
    let _ = writeln!(out, "\ntext\tkind\twords\tafter unit");
    for text in &all {
        let _ = writeln!(
            out,
            "{}\t{}\t{}\t{} {}",
            text.title,
            text.kind,
            text.words,
            text.level + 1,
            id(text.level)
        );
    }
    Ok(out)
}
