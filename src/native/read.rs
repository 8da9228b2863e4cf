//! `cellwright read`: braille to print.

use cellwright::cell::Cell;
use cellwright::ueb::{self, ReadOptions, Reading, Remark};

use super::Failure;
use super::notation::Notation;
use super::stream;

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut options = ReadOptions::default();
    let mut notation = None;
    let mut running = false;
    while let Some(arg) = args.next()? {
        match arg {
            Long("uncontracted") => options.contracted = false,
            Long("marks") => options.marks = true,
            Long("edition") => options.edition = stream::edition(&args.value()?.string()?)?,
            Long("older") => options.older = true,
            Long("running") => running = true,
            Long("notation") => notation = Some(stream::notation(&args.value()?.string()?)?),
            _ => return Err(arg.unexpected().into()),
        }
    }
    if !running {
        return stream::each_line(|number, line, out| {
            let cells = cells(number, line, notation)?;
            let reading = ueb::read(&cells, &options);
            report(number, &cells, &reading)?;
            Ok(writeln!(out, "{}", reading.print)?)
        });
    }
    let text = stream::whole()?;
    let text = text.strip_suffix('\n').unwrap_or(&text);
    let notation = notation.unwrap_or_else(|| Notation::of(text));
    // The line ends are blanks in one run of cells; each is found again by its place.
    let mut all: Vec<Cell> = Vec::new();
    let mut ends = Vec::new();
    for (number, line) in text.split('\n').enumerate() {
        if number > 0 {
            ends.push(all.len());
            all.push(Cell::BLANK);
        }
        all.extend(cells(number + 1, line, Some(notation))?);
    }
    let reading = ueb::read(&all, &options);
    report(1, &all, &reading)?;
    let mut print: Vec<char> = reading.print.chars().collect();
    for piece in &reading.pieces {
        if piece.cells.len() == 1 && piece.print.len() == 1 && ends.binary_search(&piece.cells.start).is_ok()
        {
            print[piece.print.start] = '\n';
        }
    }
    stream::print(&(print.into_iter().collect::<String>() + "\n"))
}

/// The cells of a line; what is no cell is named on standard error and left out.
pub fn cells(number: usize, line: &str, notation: Option<Notation>) -> Result<Vec<Cell>, Failure> {
    let mut told = Ok(());
    let cells = notation.unwrap_or_else(|| Notation::of(line)).read(line, |at, what| {
        if told.is_ok() {
            told = stream::say(&format!("line {number}, place {at}: '{what}' is no braille cell; left out"));
        }
    });
    told.map(|()| cells)
}

/// The cells of all lines of a text.
pub fn all_cells(text: &str) -> Result<Vec<Vec<Cell>>, Failure> {
    text.lines().enumerate().map(|(at, line)| cells(at + 1, line, None)).collect()
}

fn report(number: usize, cells: &[Cell], reading: &Reading) -> Result<(), Failure> {
    for piece in reading.pieces.iter().filter(|piece| piece.remark != Remark::None) {
        let dots: Vec<String> = cells[piece.cells.clone()].iter().map(|cell| cell.dot_numbers()).collect();
        let say = match piece.remark {
            Remark::Older => "a sign that is no longer in the code",
            Remark::Waiting => "a prefix without its root",
            _ => "no meaning here",
        };
        stream::say(&format!(
            "line {number}, cell {}: {say} (dots {})",
            piece.cells.start + 1,
            dots.join(" ")
        ))?;
    }
    Ok(())
}
