//! The copy on the desk, as the writing follows it: its lines, the one that is being written, and what that asks for.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::manuscript::copy::{self, CopyLine};
use crate::manuscript::told::Told;
use crate::manuscript::{Sheet, volumes};
use crate::page::learner::settings::Settings;
use crate::page::rooms::transcribe::copyholder;
use crate::page::states::desk::Desk;
use crate::page::surface::live::Live;
use crate::ueb::{Edition, Options, transcribe};

/// The copy.
pub struct Copy {
    /// Its lines.
    pub lines: Rc<Vec<CopyLine>>,
    /// Which of them is being written, or was turned to.
    pub at: usize,
    /// What can't be set of the print.
    pub told: Rc<Vec<Told>>,
    /// The lines of each volume's title page; none for a piece.
    pub titles: Rc<Vec<Vec<String>>>,
    /// Gives the cells that the line asks for.
    pub meant: Callback<(), Rc<[Cell]>>,
}

impl Copy {
    /// The line that is being written.
    pub fn line(&self) -> Option<&CopyLine> {
        self.lines.get(self.at)
    }

    /// The same, as it stands above the writing.
    pub fn over(&self, settings: &Settings) -> Option<Html> {
        self.line().map(|line| html! { { for line.runs.iter().map(|run| copyholder::run(run, settings)) } })
    }

    /// The braille of the line.
    pub fn answer(&self, contracted: bool, edition: Edition) -> Option<Rc<[Cell]>> {
        let options = Options { contracted, marks: false, edition };
        self.line().map(|line| transcribe(&line.print(), &options).into())
    }
}

/// The copy of the print that lies on the desk.
#[hook]
pub fn use_copy(desk: &Desk, live: &Rc<Live>, sheet: Sheet, contracted: bool) -> Copy {
    let print = desk.print.clone();
    let lines = use_memo((print.clone(), sheet), |(print, sheet)| copy::of_book(print, *sheet));
    let at = copyholder::use_following(&lines, live, sheet)
        .saturating_add_signed(desk.turned)
        .min(lines.len().saturating_sub(1));
    let told = use_memo((print.clone(), sheet), |(print, sheet)| volumes::told(print, *sheet));
    let titles = use_memo((print, sheet, desk.volume), |(print, sheet, volume)| {
        let book = volume.then(|| volumes::Book::from_print(print, *sheet));
        book.map(|book| book.volumes().iter().map(|one| one.title_lines()).collect()).unwrap_or_default()
    });
    let line = lines.get(at).map(|line| line.print()).unwrap_or_default();
    let meant = use_callback((line, contracted), |(), (line, contracted)| {
        transcribe(line, &Options { contracted: *contracted, ..Options::default() }).into()
    });
    Copy { lines, at, told, titles, meant }
}
