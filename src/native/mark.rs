//! `cellwright mark`: written braille against print or a key, as a JSON object.

use cellwright::cell::Cell;
use cellwright::marking::{self, Expected};
use cellwright::ueb::{self, Options};
use serde_json::{Value, json};

use super::Failure;
use super::read::all_cells;
use super::{stream, transcribe};

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut options = Options::default();
    let (mut by_line, mut key, mut files) = (false, None, Vec::new());
    while let Some(arg) = args.next()? {
        match arg {
            Long("uncontracted") => options.contracted = false,
            Long("marks") => options.marks = true,
            Long("edition") => options.edition = stream::edition(&args.value()?.string()?)?,
            Long("by-line") => by_line = true,
            Long("key") => key = Some(args.value()?),
            Value(file) => files.push(file),
            _ => return Err(arg.unexpected().into()),
        }
    }
    let (asked, written) = match (key, files.as_slice()) {
        (Some(key), [written]) => (Asked::Key(all_cells(&stream::file(&key)?)?), written),
        (None, [print, written]) => (Asked::Print(stream::file(print)?), written),
        _ => {
            return Err(Failure::Usage(
                "mark needs a print file (or --key and a file) and a braille file".into(),
            ));
        }
    };
    if let Asked::Print(print) = &asked {
        transcribe::report(1, print, &ueb::explain(print, &options))?;
    }
    let written = all_cells(&stream::file(written)?)?;
    let value =
        if by_line { by_lines(&asked, &written, &options) } else { running(&asked, &written, &options) };
    stream::print_json(&value)
}

enum Asked {
    Print(String),
    Key(Vec<Vec<Cell>>),
}

fn running(asked: &Asked, written: &[Vec<Cell>], options: &Options) -> Value {
    let expected = match asked {
        Asked::Print(print) => Expected::from_print(print, options),
        Asked::Key(lines) => Expected::from_key_of(lines, options.contracted, options.edition),
    };
    marking::report(&marking::mark(&expected, written), &expected, 1)
}

/// Line n against line n; the summary is of all lines together.
fn by_lines(asked: &Asked, written: &[Vec<Cell>], options: &Options) -> Value {
    let lines: Vec<Expected> = match asked {
        Asked::Print(print) => print.lines().map(|line| Expected::from_print(line, options)).collect(),
        Asked::Key(lines) => lines
            .iter()
            .map(|line| {
                Expected::from_key_of(std::slice::from_ref(line), options.contracted, options.edition)
            })
            .collect(),
    };
    let (mut reports, mut all, mut whole) = (Vec::new(), Vec::new(), Expected::default());
    for number in 0..lines.len().max(written.len()) {
        let nothing = Expected::default();
        let expected = lines.get(number).unwrap_or(&nothing);
        let line = written.get(number).cloned().unwrap_or_default();
        let marked = marking::mark(expected, &[line]);
        if let Some(Value::Array(found)) =
            marking::report(&marked, expected, number + 1).get_mut("findings").map(Value::take)
        {
            reports.extend(found);
        }
        all.extend(marked.findings);
        whole.cells.extend_from_slice(&expected.cells);
        whole.cells.push(Cell::BLANK);
    }
    let summary = marking::summarise(&all, &whole);
    let mut value = marking::report(&marking::Marked { findings: Vec::new(), summary }, &whole, 1);
    value["findings"] = json!(reports);
    value
}
