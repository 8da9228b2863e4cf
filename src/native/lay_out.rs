//! `cellwright lay-out`: print in Markdown on standard input, or a braille file to be laid out anew; laid-out
//! braille (.brf) on standard output.

use std::process::ExitCode;

use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::reflow;
use cellwright::manuscript::volumes::{self, Book};
use cellwright::ueb::{self, Options};

use super::Failure;
use super::sheet::{profile, within_bounds};
use super::{stream, transcribe};

/// Runs the command; with `--strict` the exit status is 1 when something can't be set.
pub fn run(mut args: lexopt::Parser) -> Result<ExitCode, Failure> {
    use lexopt::prelude::*;
    let mut sheet = Sheet::default();
    let mut braille = false;
    let mut strict = false;
    let mut from_cells = None;
    while let Some(arg) = args.next()? {
        match arg {
            Long("cells") => sheet.cells = args.value()?.parse()?,
            Long("lines") => sheet.lines = args.value()?.parse()?,
            Long("uncontracted") => sheet.contracted = false,
            Long("no-page-numbers") => sheet.numbered = false,
            Long("edition") => sheet.edition = stream::edition(&args.value()?.string()?)?,
            Long("divide") => sheet.divide = true,
            Long("strict") => strict = true,
            Long("profile") => sheet.profile = profile(&args.value()?)?,
            Long("from-braille") => braille = true,
            Long("from-cells") => from_cells = Some(args.value()?.parse()?),
            _ => return Err(arg.unexpected().into()),
        }
    }
    let sheet = within_bounds(sheet)?;
    if from_cells.is_some() && !braille {
        return Err(Failure::Usage("--from-cells goes with --from-braille".into()));
    }
    let old = Sheet { contracted: sheet.contracted, edition: sheet.edition, ..Sheet::default() };
    let old = within_bounds(Sheet { cells: from_cells.unwrap_or(old.cells), ..old })?;
    let text = stream::whole()?;
    let mut told = Vec::new();
    let (lines, forced) = if braille {
        let file = BrailleFile::from_text(&text);
        left_out(&file)?;
        let book = reflow::book_anew(&file.cells(), old, sheet);
        (book.lines(), book.forced())
    } else {
        without_sign(&text, sheet)?;
        told = volumes::told(&text, sheet);
        for told in told.iter().filter(|told| !told.is_character()) {
            stream::say(&told.to_string())?;
        }
        let book = Book::from_print(&text, sheet);
        (book.lines(), book.forced())
    };
    for forced in forced {
        stream::say(&format!(
            "page {}, line {}: longer than a line, broken (6.10)",
            forced.page, forced.line
        ))?;
    }
    stream::print(&BrailleFile::from_pages(&lines).to_text())?;
    Ok(if strict && !told.is_empty() { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}

/// Names the characters of print that no sign stands for. A line with a form feed is a print page's number.
fn without_sign(text: &str, sheet: Sheet) -> Result<(), Failure> {
    let options = Options { contracted: sheet.contracted, marks: true, edition: sheet.edition };
    for (at, line) in text.lines().enumerate() {
        let line = line.trim_start_matches('\u{feff}');
        if !line.trim_matches([' ', '\t']).starts_with('\u{c}') {
            transcribe::report(at + 1, line, &ueb::explain(line, &options))?;
        }
    }
    Ok(())
}

/// Names the characters of a braille file that are no cells.
fn left_out(file: &BrailleFile) -> Result<(), Failure> {
    for (page, lines) in file.pages().enumerate() {
        for (line, text) in lines.iter().enumerate() {
            for (at, c) in text.chars().enumerate().filter(|(_, c)| *c != '\t' && file.cell(*c).is_none()) {
                let (page, line, at) = (page + 1, line + 1, at + 1);
                stream::say(&format!(
                    "page {page}, line {line}, place {at}: '{c}' is no braille cell; left out"
                ))?;
            }
        }
    }
    Ok(())
}
