//! What unfolds inside rooms and is not in the first download: the table of these pieces, as the shell hands it down.
//!
//! A room says `later.show(Piece::Measure, MeasureProps { .. })` and gets the piece, or what stands in its place until the
//! whole page is here. Which of the two it is stands in `shell` alone.

use std::any::Any;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Marked;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::elsewhere::{Elsewhere, Folded};
use crate::practice::session::Rules;
use crate::ueb::Options;

/// How a piece is drawn: a `fn(Properties) -> Html`, made by [`drawn`].
pub type Drawn = Box<dyn Any>;

/// Marks written lines against print.
pub type Mark = fn(&str, &[Vec<Cell>], &Options) -> Marked;

/// Writes print in braille.
pub type Transcribe = fn(&str, &Options) -> Vec<Cell>;

/// How this component is drawn as a piece.
pub fn drawn<C: BaseComponent>() -> Drawn {
    let draw: fn(C::Properties) -> Html = |props| html! { <C ..props /> };
    Box::new(draw)
}

/// What unfolds inside rooms, as far as this page holds it.
#[derive(Clone, Copy)]
pub struct Later {
    /// How a piece is drawn; nothing where this page does not hold it.
    pub pieces: fn(Piece) -> Option<Drawn>,
    /// Whether rules can be asked in a session.
    pub rules: Rules,
    /// How work is marked, where it can be.
    pub mark: Option<Mark>,
    /// How print is written in braille, where it can be.
    pub transcribe: Option<Transcribe>,
}

impl PartialEq for Later {
    /// There is one in a page.
    fn eq(&self, _: &Later) -> bool {
        true
    }
}

impl Later {
    /// The piece; nothing where this page does not hold it.
    pub fn here<P: 'static>(self, piece: Piece, props: P) -> Option<Html> {
        let drawn = (self.pieces)(piece)?;
        let draw = drawn.downcast_ref::<fn(P) -> Html>()?;
        Some(draw(props))
    }

    /// The piece; where this page does not hold it, the whole page is asked for at once.
    pub fn show<P: 'static>(self, piece: Piece, props: P) -> Html {
        self.here(piece, props).unwrap_or_else(|| html! { <Elsewhere piece={Some(piece)} /> })
    }

    /// A piece that is a `details` with this line and class; where this page does not hold it, the whole page is asked
    /// for when it is opened.
    pub fn fold<P: 'static>(self, piece: Piece, line: &'static str, class: &'static str, props: P) -> Html {
        self.here(piece, props).unwrap_or_else(|| html! { <Folded {piece} {line} {class} /> })
    }
}

/// The table that the shell hands down.
#[hook]
pub fn use_later() -> Later {
    use_context::<Later>().expect("the shell hands it down")
}
