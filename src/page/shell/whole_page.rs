//! The rooms of the whole page, and every piece that unfolds inside them.

use yew::prelude::*;

use crate::exercise::Work;
use crate::marking;
use crate::page::browser::people;
use crate::page::drills::teach::Teach;
use crate::page::learner::journal;
use crate::page::marked::follow_up::{AskAfter, AskFirst};
use crate::page::rooms::read::BesideBook;
use crate::page::rooms::read::own::{OwnReader, OwnText};
use crate::page::rooms::read::reader_view::Measure;
use crate::page::rooms::read::shelf::Shelf;
use crate::page::rooms::write::copy_link::CopyLink;
use crate::page::rooms::write::marks::Marks;
use crate::page::rooms::{
    course, exercise, licences, practise, proofread, read, record, session, set_work, signs, slip,
    transcribe, write,
};
use crate::page::route::{self, Route};
use crate::page::shell::first;
use crate::page::shell::table::{Table, one_piece};
use crate::page::states::hand_over::Piece;
use crate::page::surface::work;
use crate::page::surface::writing_settings::WritingSettings;
use crate::page::widgets::keyboard_check::KeyboardCheck;
use crate::page::widgets::later::{Drawn, Later, drawn};
use crate::page::widgets::number_entry::NumberEntry;
use crate::page::widgets::open_work::OpenWork;
use crate::practice::session::Rules;
use crate::ueb;

/// The table.
pub const TABLE: Table = Table {
    room,
    settled: Some(settled),
    later: Later {
        pieces: |piece| Some(drawn_by(piece)),
        rules: Rules::ASKED,
        mark: Some(marking::mark_print),
        transcribe: Some(ueb::transcribe),
    },
};

/// What waits until the page is quiet.
fn settled() {
    people::end_leaving();
    journal::shorten();
}

fn room(route: &Route) -> Html {
    match route {
        Route::First => html! { <first::Room /> },
        Route::Session(from) => html! { <session::Room key={session::key(*from)} from={*from} /> },
        Route::Practise => html! { <practise::Room key={route::address()} /> },
        Route::Course => html! { <course::Room /> },
        Route::Read => html! { <read::Room /> },
        Route::Write => one_piece(route, "write".to_owned(), html! { <write::Room /> }),
        Route::Transcribe => one_piece(route, "transcribe".to_owned(), html! { <transcribe::Room /> }),
        Route::Proofread => one_piece(route, "proofread".to_owned(), html! { <proofread::Room /> }),
        Route::Signs => html! { <signs::Room /> },
        Route::Record => html! { <record::Room /> },
        Route::SetWork => one_piece(route, "set".to_owned(), html! { <set_work::Room /> }),
        Route::Exercise(payload) => {
            let shared = html! { <exercise::Shared payload={payload.clone()} /> };
            // A link that cannot be opened holds no work.
            if Work::from_payload(payload).is_err() {
                return shared;
            }
            one_piece(route, work::name_of("x", payload), shared)
        }
        Route::Slip(payload) => html! { <slip::Room payload={payload.clone()} /> },
        Route::Licences => html! { <licences::Room /> },
        Route::Unknown => Html::default(),
    }
}

/// What a room gives to [`Later::show`] are the properties of the component that stands here.
fn drawn_by(piece: Piece) -> Drawn {
    match piece {
        Piece::OpenWork => drawn::<OpenWork>(),
        Piece::Shelf => drawn::<Shelf>(),
        Piece::OwnText => drawn::<OwnText>(),
        Piece::OwnReader => drawn::<OwnReader>(),
        Piece::PaperBook => drawn::<BesideBook>(),
        Piece::Measure => drawn::<Measure>(),
        Piece::Teach => drawn::<Teach>(),
        Piece::WritingSettings => drawn::<WritingSettings>(),
        Piece::NumberEntry => drawn::<NumberEntry>(),
        Piece::KeyboardCheck => drawn::<KeyboardCheck>(),
        Piece::Marks => drawn::<Marks>(),
        Piece::CopyLink => drawn::<CopyLink>(),
        Piece::AskAfter => drawn::<AskAfter>(),
        Piece::AskFirst => drawn::<AskFirst>(),
    }
}
