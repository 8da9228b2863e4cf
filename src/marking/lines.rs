//! Written lines as running cells, each with its place on the page.

use super::{Expected, Place};
use crate::cell::Cell;

/// Written lines as one run of cells: blanks at the ends of lines are dropped, and a line end is one blank.
#[derive(Clone, Debug, Default)]
pub struct Flat {
    /// The cells.
    pub cells: Vec<Cell>,
    /// For each cell its line and its place in it.
    at: Vec<(u32, u32)>,
    /// For each cell whether it is a line end.
    pub line_end: Vec<bool>,
}

impl Flat {
    /// Lines as a run. A hyphen that only divides a word at a line end (section 10.13) is not marked, so it is
    /// left out together with its line end; the word is asked for to see which hyphens those are.
    pub fn new(lines: &[Vec<Cell>], expected: &Expected) -> Flat {
        let hyphen = Cell::from_ascii('-').unwrap_or_default();
        let mut flat = Flat::default();
        let room = lines.iter().map(|line| line.len() + 1).sum();
        flat.cells.reserve(room);
        flat.at.reserve(room);
        flat.line_end.reserve(room);
        let hyphens =
            lines.iter().any(|line| line.iter().rev().find(|cell| !cell.is_blank()) == Some(&hyphen));
        let words: std::collections::HashSet<&[Cell]> = match hyphens {
            true => expected.cells.split(|cell| cell.is_blank()).collect(),
            false => Default::default(),
        };
        let mut divided = false;
        for (number, line) in lines.iter().enumerate() {
            let Some(first) = line.iter().position(|cell| !cell.is_blank()) else { continue };
            let end = line.iter().rposition(|cell| !cell.is_blank()).map_or(0, |last| last + 1);
            if !flat.cells.is_empty() && !divided {
                let after = flat.at.last().map_or((0, 0), |&(line, at)| (line as usize, at as usize + 1));
                flat.push(Cell::BLANK, after, true);
            }
            let mut to = end;
            divided = false;
            if line[end - 1] == hyphen && end - first > 1 {
                let next = lines[number + 1..].iter().find(|line| line.iter().any(|cell| !cell.is_blank()));
                let tail: Vec<Cell> = next
                    .map(|next| {
                        next.iter()
                            .copied()
                            .skip_while(|c| c.is_blank())
                            .take_while(|c| !c.is_blank())
                            .collect()
                    })
                    .unwrap_or_default();
                let head = line[first..end].rsplit(|cell| cell.is_blank()).next().unwrap_or_default();
                let kept: Vec<Cell> = head.iter().chain(&tail).copied().collect();
                let joined: Vec<Cell> = head[..head.len() - 1].iter().chain(&tail).copied().collect();
                if !tail.is_empty() && !words.contains(head) {
                    divided = true;
                    if !words.contains(kept.as_slice()) && words.contains(joined.as_slice()) {
                        to = end - 1;
                    }
                }
            }
            for (place, &cell) in line.iter().enumerate().take(to).skip(first) {
                flat.push(cell, (number, place), false);
            }
        }
        flat
    }

    fn push(&mut self, cell: Cell, at: (usize, usize), end: bool) {
        self.cells.push(cell);
        self.at.push((at.0 as u32, at.1 as u32));
        self.line_end.push(end);
    }

    /// The place of a run of cells; a run over several lines is cut at the end of its first.
    pub fn place(&self, from: usize, to: usize) -> Place {
        let Some(&(line, start)) = self.at.get(from) else {
            let (line, end) = self.at.last().map_or((0, 0), |&(line, at)| (line, at + 1));
            return Place { line: line as usize, from: end as usize, to: end as usize };
        };
        // The blank that a line end stands for is no cell of the line.
        let end = (from..to.min(self.at.len()))
            .take_while(|&at| self.at[at].0 == line && !self.line_end[at])
            .last()
            .map_or(start, |at| self.at[at].1 + 1);
        Place { line: line as usize, from: start as usize, to: end as usize }
    }
}
