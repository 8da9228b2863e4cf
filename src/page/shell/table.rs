//! What the shell is handed: a table of rooms.

use yew::prelude::*;

use crate::page::route::Route;
use crate::page::widgets::later::Later;
use crate::page::widgets::one_piece::OnePiece;

/// The rooms of a page, and what unfolds inside them.
#[derive(Clone, Copy)]
pub struct Table {
    /// Draws the room of an address that names one.
    pub room: fn(&Route) -> Html,
    /// What is done once the page stands and is quiet.
    pub settled: Option<fn()>,
    /// What unfolds inside rooms.
    pub later: Later,
}

impl PartialEq for Table {
    /// There is one in a page.
    fn eq(&self, _: &Table) -> bool {
        true
    }
}

/// A room whose work is one piece: it is open in one tab at a time.
pub fn one_piece(route: &Route, piece: String, room: Html) -> Html {
    let title = route.name().unwrap_or_default();
    html! { <OnePiece key={piece.clone()} piece={piece.clone()} {title}>{ room }</OnePiece> }
}
