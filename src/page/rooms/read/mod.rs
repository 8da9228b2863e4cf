//! The room "Read": the shelf, easiest first; texts of one's own; a paper book on the desk.

pub mod answer;
pub mod beside;
pub mod course_texts;
pub mod cover;
pub mod find;
pub mod log_paper;
pub mod own;
pub mod print_side;
pub mod progress;
pub mod reader;
pub mod reader_view;
pub mod sheet_side;
pub mod shelf;

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::data::{OnTheWay, use_supply};
use crate::page::browser::halves::{leave_text, text_left};
use crate::page::browser::held::{Held, use_held};
use crate::page::learner::journal::{LearnerHandle, use_learner};
use crate::page::learner::settings::use_settings;
use crate::page::rooms::read::beside::{Beside, BesideProps};
use crate::page::rooms::read::course_texts::{course_texts, next_text};
use crate::page::rooms::read::own::{OWN_LINE, Own, OwnReaderProps, OwnTextProps};
use crate::page::rooms::read::progress::{Finished, Progress};
use crate::page::rooms::read::reader::Reader;
use crate::page::rooms::read::shelf::ShelfProps;
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::elsewhere::use_opened;
use crate::page::widgets::later::{Later, use_later};
use crate::practice::reading::Reading;

/// The line under which the shelf unfolds.
pub const SHELF_LINE: &str = "The shelf of books";
const BOOK_LINE: &str = "Beside a paper book";

/// The text that is open.
#[derive(Clone, PartialEq)]
enum Open {
    /// What fits the learner best.
    Fitting,
    /// The text of this title: the first download had it open, or a link names it.
    Named(String),
    /// A text of the course or a book of the shelf.
    Text(Rc<Reading>),
    /// A text of the learner's own, by its title.
    Own(String),
}

/// The room.
#[component]
pub fn Room() -> Html {
    let later = use_later();
    let learner = use_learner();
    let settings = use_settings();
    let stock = use_supply();
    let own = use_held(|| Rc::new(own::kept()));
    // A lesson's link names the text.
    let open = use_held(|| route::asked("text").or_else(text_left).map_or(Open::Fitting, Open::Named));
    let contracted = use_held(|| settings.contracted);
    let read = use_held(usize::default);
    // Measured once for each set of texts, not after every answer.
    let texts = {
        let learner = learner.clone();
        use_memo(stock.clone(), move |stock| Rc::new(course_texts(&learner, stock.here().map(Rc::as_ref))))
    };
    // What fits is chosen once, not anew when a page was read.
    let fitting = use_memo(texts.clone(), |texts| {
        next_text(texts, &Progress::kept(), "").or(texts.first()).map(|text| text.reading.clone())
    });
    let own_open = match &*open {
        Open::Own(title) | Open::Named(title) => own.iter().find(|text| text.title == *title).cloned(),
        _ => None,
    };
    let reading = match &*open {
        Open::Text(reading) => Some(reading.clone()),
        Open::Named(title) => {
            texts.iter().find(|text| text.reading.title == *title).map(|text| text.reading.clone())
        }
        _ => None,
    };
    let reading = reading.or_else(|| (*fitting).clone());
    let title = own_open.as_ref().map(|own| own.title.clone());
    let title = title.or(reading.as_ref().map(|reading| reading.title.clone())).unwrap_or_default();
    if !title.is_empty() {
        leave_text(&title);
    }
    let on_open = {
        let open = open.clone();
        Callback::from(move |reading: Rc<Reading>| open.set(Open::Text(reading)))
    };
    let on_own = {
        let open = open.clone();
        Callback::from(move |title: String| open.set(Open::Own(title)))
    };
    let on_finish = {
        let read = read.clone();
        Callback::from(move |_: Finished| read.set(*read + 1))
    };
    // A text that was brought below is shown above: it comes into sight.
    let (brought, sheet) = (use_held(u32::default), use_node_ref());
    {
        let sheet = sheet.clone();
        use_effect_with(*brought, move |brought| {
            if let Some(sheet) = sheet.cast::<web_sys::Element>().filter(|_| *brought > 0) {
                sheet.scroll_into_view();
            }
        });
    }
    let take = {
        let (own, open, brought) = (own.clone(), open.clone(), brought.clone());
        Callback::from(move |(all, title): (Vec<Own>, String)| {
            own.set(Rc::new(all));
            open.set(Open::Own(title));
            brought.set(*brought + 1);
        })
    };
    let on_contracted = {
        let contracted = contracted.clone();
        Callback::from(move |on| contracted.set(on))
    };
    html! {
        <>
            <h1>{ "Read" }</h1>
            <OnTheWay />
            { later.fold(Piece::Shelf, SHELF_LINE, "bookshelf", ShelfProps {
                learner: learner.clone(), texts: (*texts).clone(), own: own.iter().map(|own| (own.title.clone(), own.contracted)).collect(),
                open: title.clone(), read: *read, on_open, on_own
            }) }
            <div ref={sheet}>
                if let Some(text) = own_open {
                    { own_reader(text, &own, &open, &learner, on_finish, later) }
                } else if let Some(reading) = reading {
                    <Reader key={title} {reading} learner={learner.clone()} {on_finish} />
                }
            </div>
            { later.fold(Piece::OwnText, OWN_LINE, "own-text", OwnTextProps { contracted: *contracted, on_contracted, take }) }
            { later.fold(Piece::PaperBook, BOOK_LINE, "", BesideProps { learner, contracted: *contracted }) }
        </>
    }
}

/// A text of one's own, and what is done with it.
fn own_reader(
    text: Own,
    own: &Held<Rc<Vec<Own>>>,
    open: &Held<Open>,
    learner: &LearnerHandle,
    on_finish: Callback<Finished>,
    later: Later,
) -> Html {
    let title = text.title.clone();
    let on_remove = {
        let (own, open, title) = (own.clone(), open.clone(), title.clone());
        Callback::from(move |()| {
            let all: Vec<Own> = own::kept().into_iter().filter(|text| text.title != title).collect();
            let _ = own::keep(&all);
            own.set(Rc::new(all));
            open.set(Open::Fitting);
        })
    };
    let on_older = {
        let (own, title) = (own.clone(), title.clone());
        Callback::from(move |older| {
            let all: Vec<Own> = own::kept().iter().map(|text| text.answered(&title, older)).collect();
            // It is asked again where the browser keeps nothing.
            let _ = own::keep(&all);
            own.set(Rc::new(all));
        })
    };
    let reader = later.show(
        Piece::OwnReader,
        OwnReaderProps { own: text, learner: learner.clone(), on_finish, on_older, on_remove },
    );
    html! { <div class="own-reader" key={title}>{ reader }</div> }
}

/// A paper book on the desk, under its line.
#[component]
pub fn BesideBook(props: &BesideProps) -> Html {
    let (open_at_once, line) = use_opened(Piece::PaperBook);
    // Once it was opened it stays, with all that was entered.
    let begun = use_held(|| open_at_once);
    let ontoggle = {
        let begun = begun.clone();
        Callback::from(move |_: Event| begun.set(true))
    };
    html! {
        <details open={open_at_once} {ontoggle}>
            <summary ref={line}>{ BOOK_LINE }</summary>
            if *begun { <Beside learner={props.learner.clone()} contracted={props.contracted} /> }
        </details>
    }
}
