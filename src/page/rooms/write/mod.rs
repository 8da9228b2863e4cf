//! The room "Write": the copyholder, the writing surface, and what it reads as.

pub mod copy;
pub mod copy_link;
pub mod marking;
pub mod marks;

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Marked;
use crate::page::browser::held::use_held;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::write::copy::use_copy;
use crate::page::rooms::write::copy_link::CopyLinkProps;
use crate::page::rooms::write::marking::{MarkBy, use_line_marks, use_mark, use_marking, use_on_change};
use crate::page::rooms::write::marks::MarksProps;
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::live::Live;
use crate::page::surface::reads_as::ReadsAs;
use crate::page::surface::work;
use crate::page::surface::work::KeptWork;
use crate::page::surface::writing_settings;
use crate::page::surface::written::Given;
use crate::page::widgets::elsewhere::Elsewhere;
use crate::page::widgets::later::use_later;
use crate::page::widgets::switch::{change, edition_switch, numbers_only, switch};
use crate::ueb::Options;

/// The room.
#[component]
pub fn Room() -> Html {
    // A lesson's link brings its line.
    let line = route::asked("copy").filter(|line| !line.is_empty() && line.len() < LONGEST_LINK);
    let contracted = line.as_ref().map(|_| route::asked("braille").as_deref() != Some("uncontracted"));
    html! {
        <>
            <h1>{ "Write" }</h1>
            <Desk key={line.clone().unwrap_or_default()} set={line.clone().map(AttrValue::from)} {contracted} />
            if line.is_some() { <p><a href="#/course">{ "Back to the course" }</a></p> }
        </>
    }
}

/// A line of a link that is longer than this is none of a lesson's, in bytes.
const LONGEST_LINK: usize = 2_000;

/// What a desk has to copy, when it does not come from the built-in prompts.
#[derive(Properties, PartialEq, Default)]
pub struct DeskProps {
    /// A text set by a teacher; the learner's own saved writing stays as it is.
    #[prop_or_default]
    pub set: Option<AttrValue>,
    /// The reading is hidden until the work is marked.
    #[prop_or_default]
    pub hide: bool,
    /// Contracted or not, when the teacher has said so.
    #[prop_or_default]
    pub contracted: Option<bool>,
    /// Written as on a slate.
    #[prop_or_default]
    pub slate: bool,
    /// What the work is marked as when the desk opens.
    #[prop_or_default]
    pub first: Option<Rc<Marked>>,
    /// How set work is marked.
    #[prop_or_default]
    pub mark_by: Option<MarkBy>,
    /// Whether nothing more is written.
    #[prop_or_default]
    pub read_only: bool,
}

/// The copyholder, the surface, the reading and the marks.
#[component]
pub fn Desk(props: &DeskProps) -> Html {
    let settings = use_settings();
    let later = use_later();
    let contracted = props.contracted.unwrap_or(settings.contracted);
    let own = props.set.is_none();
    let copy = use_copy(&props.set, props.slate);
    // Followed key by key by those parts that show it; the room itself is drawn again only when there is reason to.
    let live = use_memo((), |()| Live::default());
    let given = use_held(|| work::given(0, work::load(&copy.name())));
    let marking = use_marking(&props.first, &given.lines);
    let on_change = use_on_change(&marking, &live);
    let (from, prompt) = copy.text();
    let options = Options { contracted, edition: settings.edition(), ..Options::default() };
    let mark = use_mark(&marking, later, &props.mark_by, &live, (prompt.clone(), options));
    let line_marks = use_line_marks(&marking, &live);
    let hidden = props.hide && marking.marks.is_none();
    let under = !hidden && (props.hide || !settings.hide_reading);
    // `over`: it takes the place of what was written for the same text.
    let lay = |over: bool| {
        let (given, clear) = (given.clone(), marking.clear());
        Callback::from(move |lines: Vec<Vec<Cell>>| {
            given.set(Given { over, ..work::given(given.version + 1, lines) });
            clear.emit(());
        })
    };
    let turn = copy.turn(&lay(false));
    let start_again = lay(true).reform(|_: MouseEvent| Vec::new());

    let meant = {
        // Where this page can write braille.
        let asked = (prompt.clone(), contracted, copy.is_free());
        let transcribe = later.transcribe;
        let cells = use_callback(asked, move |(), (prompt, contracted, free)| {
            let options = Options { contracted: *contracted, ..Options::default() };
            transcribe
                .filter(|_| !free)
                .map(|transcribe| Rc::from(transcribe(prompt, &options)))
                .unwrap_or_default()
        });
        transcribe.map(|_| cells)
    };
    let marked = (*marking.marks).clone();
    let free = copy.is_free();

    html! {
        <div class="desk">
            { copy.view(&turn, &settings) }
            <BrailleInput given={(*given).clone()} {on_change} marks={line_marks} asks="copy-line" {meant} contracted={props.contracted} slate={props.slate}
                read_only={props.read_only} reads={under} />
            <div class="controls under">
                if !free && !props.read_only {
                    <button type="button" class="main" onclick={mark.reform(|_: MouseEvent| ())} disabled={*marking.empty}>{ "Mark my work" }</button>
                }
                if !props.read_only { <button type="button" class="quiet" data-undoes="" onclick={start_again}>{ "Start again" }</button> }
                { numbers_only(&settings) }
                if !props.hide {
                    { switch("Hide the reading", settings.hide_reading, change(&settings, |s, on| s.hide_reading = on)) }
                }
                if props.contracted.is_none() {
                    { switch("Contracted", settings.contracted, change(&settings, |s, on| s.contracted = on)) }
                    { edition_switch(&settings) }
                }
            </div>
            <KeptWork live={live.clone()} name={copy.name()} version={given.version} />
            if *marking.awaited { <Elsewhere piece={Some(Piece::Marks)} /> }
            // It stands there before anything is marked.
            { later.here(Piece::Marks, MarksProps {
                print: prompt.clone(), contracted, written: if marked.is_some() { Rc::new(live.now().cells()) } else { Rc::default() }, marked, open: *marking.open, on_open: marking.on_open(),
                on_book: marking.on_book(),
            }).unwrap_or_default() }
            if hidden {
                <p class="note">{ "What it reads as is shown when you mark your work." }</p>
            } else {
                <ReadsAs live={live.clone()} follows={under} />
            }
            <div class="controls">
                if own {
                    { switch("Write freely, without a prompt", free, copy.without(&turn)) }
                }
                // Of set work nothing but its slip goes out.
                if own {
                    { later.here(Piece::CopyLink, CopyLinkProps {
                        title: from.into(), print: (!free).then_some(prompt), contracted, live: live.clone(),
                    }).unwrap_or_default() }
                }
            </div>
            { later.fold(Piece::WritingSettings, writing_settings::LINE, writing_settings::CLASS, ()) }
        </div>
    }
}
