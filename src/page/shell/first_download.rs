//! The rooms of the first download: the first screen and Write, and for everything else that the whole page is to come.
//!
//! It has no way from print to braille, and so none to mark; sessions and books come with the whole page, which follows at once
//! (`SPEED.md` has what each of them weighs).

use yew::prelude::*;

use crate::page::rooms::write;
use crate::page::route::Route;
use crate::page::shell::first;
use crate::page::shell::table::{Table, one_piece};
use crate::page::widgets::elsewhere::Elsewhere;
use crate::page::widgets::later::Later;
use crate::practice::session::Rules;

/// The table.
pub const TABLE: Table = Table {
    room,
    settled: None,
    later: Later { pieces: |_| None, rules: Rules::NONE, mark: None, transcribe: None },
};

fn room(route: &Route) -> Html {
    match route {
        Route::First => html! { <first::Room /> },
        Route::Write => one_piece(route, "write".to_owned(), html! { <write::Room /> }),
        _ => html! { <Elsewhere /> },
    }
}
