//! `cellwright transcribe`: print to braille.

use cellwright::ueb::{self, Options};

use super::Failure;
use super::notation::Notation;
use super::stream;

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut options = Options::default();
    let mut notation = Notation::Unicode;
    let mut running = false;
    while let Some(arg) = args.next()? {
        match arg {
            Long("uncontracted") => options.contracted = false,
            Long("marks") => options.marks = true,
            Long("edition") => options.edition = stream::edition(&args.value()?.string()?)?,
            Long("running") => running = true,
            Long("notation") => notation = stream::notation(&args.value()?.string()?)?,
            _ => return Err(arg.unexpected().into()),
        }
    }
    if !running {
        return stream::each_line(|number, line, out| {
            let explained = ueb::explain(line, &options);
            report(number, line, &explained)?;
            Ok(writeln!(out, "{}", notation.write(&explained.cells))?)
        });
    }
    // One text: the line ends of print are blank cells in it, and stand at the same places in the output.
    let text = stream::whole()?;
    let text = text.strip_suffix('\n').unwrap_or(&text);
    let explained = ueb::explain(text, &options);
    report(1, text, &explained)?;
    let ends: Vec<usize> = text.chars().enumerate().filter(|(_, c)| *c == '\n').map(|(at, _)| at).collect();
    let mut from = 0;
    let mut lines = Vec::new();
    for sign in &explained.signs {
        if sign.print.len() == 1 && ends.binary_search(&sign.print.start).is_ok() {
            lines.push(notation.write(&explained.cells[from..sign.cells.start]));
            from = sign.cells.end;
        }
    }
    lines.push(notation.write(&explained.cells[from..]));
    stream::print(&(lines.join("\n") + "\n"))
}

/// Says on standard error which characters have no sign.
pub fn report(first_line: usize, text: &str, explained: &ueb::Explanation) -> Result<(), Failure> {
    if explained.unhandled.is_empty() {
        return Ok(());
    }
    let mut missing = explained.unhandled.iter().peekable();
    let (mut line, mut column) = (first_line, 1);
    for (at, c) in text.chars().enumerate() {
        if let Some(unhandled) = missing.next_if(|unhandled| unhandled.at == at) {
            let character = unhandled.character;
            stream::say(&format!(
                "line {line}, character {column}: no sign for '{character}' (U+{:04X})",
                u32::from(character)
            ))?;
        }
        if c == '\n' {
            line += 1;
            column = 1;
        } else {
            column += 1;
        }
    }
    Ok(())
}
