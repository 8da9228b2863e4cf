//! The room "Write": the copyholder, the writing surface, and what it reads as.

pub mod copy_link;
pub mod marks;

use std::rc::Rc;

use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Marked;
use crate::marking::cause::Booked;
use crate::page::browser::halves::take_piece;
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, fill, object};
use crate::page::learner::rehearsal::Rehearsal;
use crate::page::learner::settings::use_settings;
use crate::page::marked::findings::on_surface;
use crate::page::rooms::write::copy_link::CopyLinkProps;
use crate::page::rooms::write::marks::MarksProps;
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::live::Live;
use crate::page::surface::reads_as::ReadsAs;
use crate::page::surface::work;
use crate::page::surface::work::KeptWork;
use crate::page::surface::writing_settings;
use crate::page::surface::written::{Given, Written};
use crate::page::widgets::cells_line::shown;
use crate::page::widgets::elsewhere::Elsewhere;
use crate::page::widgets::later::use_later;
use crate::page::widgets::switch::{change, edition_switch, numbers_only, switch};
use crate::ueb::Options;

/// Where the learner's writing is kept.
const KEY: &str = "write";
const VERSION: u32 = 1;

/// The built-in prompts, with what they are from.
fn prompts() -> impl Iterator<Item = (&'static str, &'static str)> + Clone {
    include_str!("prompts.tsv").lines().filter_map(|line| line.split_once('\t'))
}

/// What is kept between visits: the prompt, and whether the learner writes without one. The writing itself is kept text
/// by text, in [`work`].
#[derive(Default)]
struct Kept {
    prompt: usize,
    free: bool,
}

impl Stored for Kept {
    fn take(value: &JsValue) -> Option<Self> {
        let mut kept = Kept::default();
        fill(value, "prompt", &mut kept.prompt)?;
        fill(value, "free", &mut kept.free)?;
        Some(kept)
    }
    fn give(&self) -> JsValue {
        object(&[("prompt", self.prompt.give()), ("free", self.free.give())])
    }
}

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
    pub mark_by: Option<Callback<Vec<Vec<Cell>>, Rc<Marked>>>,
    /// Whether nothing more is written.
    #[prop_or_default]
    pub read_only: bool,
}

/// The name under which the writing of a set text is kept: apart from the learner's own work on the same print.
pub fn name_of_set(slate: bool, text: &str) -> String {
    work::name_of(if slate { "set.slate" } else { "set.write" }, text)
}

/// The copyholder, the surface, the reading and the marks.
#[component]
pub fn Desk(props: &DeskProps) -> Html {
    let settings = use_settings();
    let later = use_later();
    let kept = use_memo((), |()| store::load::<Kept>(KEY, VERSION).unwrap_or_default());
    let own = props.set.is_none();
    let texts: Rc<Vec<(String, String)>> = use_memo(props.set.clone(), |set| match set {
        Some(text) => vec![(String::new(), text.to_string())],
        None => prompts().map(|(from, text)| (from.to_owned(), text.to_owned())).collect(),
    });
    let count = texts.len();
    let place = use_held(|| if own { kept.prompt.min(count.saturating_sub(1)) } else { 0 });
    let free = use_held(|| own && kept.free);
    let contracted = props.contracted.unwrap_or(settings.contracted);
    let (slate, task) = (props.slate, if props.slate { "slate" } else { "write" });
    let rehearsal = use_context::<Rehearsal>().is_some();
    let name_of = {
        let texts = texts.clone();
        move |place: usize, free: bool| {
            if rehearsal {
                return String::new();
            }
            if free {
                return format!("work.{task}.free");
            }
            let text = texts.get(place).map_or("", |(_, text)| text.as_str());
            if own { work::name_of(task, text) } else { name_of_set(slate, text) }
        }
    };
    let name = name_of(*place, *free);
    // Followed key by key by those parts that show it; the room itself is drawn again only when there is reason to.
    let live = use_memo((), |()| Live::default());
    let empty = use_held(|| true);
    let given = use_held(|| work::given(0, work::load(&name)));
    let marks = use_held(|| props.first.clone());
    // The work that these marks are of.
    let marks_of = use_mut_ref(|| props.first.is_some().then(|| (*given.lines).clone()));
    let asked = use_held(Option::<usize>::default);
    let awaited = use_held(bool::default);

    let (from, prompt) = texts.get(*place).cloned().unwrap_or_default();
    let options = Options { contracted, edition: settings.edition(), ..Options::default() };
    let hidden = props.hide && marks.is_none();
    let under = !hidden && (props.hide || !settings.hide_reading);

    let on_change = {
        let (live, marks, empty, marks_of) = (live.clone(), marks.clone(), empty.clone(), marks_of.clone());
        use_callback((), move |new: Written, ()| {
            // Findings stay while the caret moves among them; a change of the text takes them away.
            if live.tell(&new) {
                if marks_of.borrow().as_ref().is_none_or(|lines| *lines != new.cells()) {
                    marks_of.take();
                    marks.set(None);
                }
                empty.set(new.is_empty());
            }
        })
    };
    let begin = {
        let (given, marks, asked) = (given.clone(), marks.clone(), asked.clone());
        Callback::from(move |lines: Vec<Vec<Cell>>| {
            given.set(work::given(given.version + 1, lines));
            marks.set(None);
            asked.set(None);
        })
    };
    let turn_to = {
        let (place_now, free_now, begin) = (place.clone(), free.clone(), begin.clone());
        Callback::from(move |(to, without): (usize, bool)| {
            place_now.set(to);
            free_now.set(without);
            if own {
                // A browser that keeps nothing only forgets which prompt it was.
                let _ = store::save(KEY, VERSION, &Kept { prompt: to, free: without });
            }
            begin.emit(work::load(&name_of(to, without)));
        })
    };
    let go = |step: isize| {
        let (turn_to, to) =
            (turn_to.clone(), (*place as isize + step).rem_euclid(count.max(1) as isize) as usize);
        Callback::from(move |_: MouseEvent| turn_to.emit((to, false)))
    };
    let without = {
        let (turn_to, place) = (turn_to.clone(), *place);
        Callback::from(move |on| turn_to.emit((place, on)))
    };
    let mark = {
        let (live, marks, asked, prompt, options) =
            (live.clone(), marks.clone(), asked.clone(), prompt.clone(), options.clone());
        let (awaited, mark_by) = (awaited.clone(), props.mark_by.clone());
        Callback::from(move |()| {
            let Some(mark) = later.mark else {
                awaited.set(true);
                return;
            };
            asked.set(None);
            let lines = live.now().cells();
            *marks_of.borrow_mut() = Some(lines.clone());
            marks.set(Some(match &mark_by {
                Some(mark_by) => mark_by.emit(lines),
                None => Rc::new(mark(&prompt, &lines, &options)),
            }));
        })
    };
    {
        // The first download has left the marking to the whole page.
        let (mark, due) = (mark.clone(), use_mut_ref(|| take_piece(Piece::Marks)));
        use_effect_with(*empty, move |nothing| {
            if !nothing && due.replace(false) {
                mark.emit(());
            }
        });
    }
    let mark = mark.reform(|_: MouseEvent| ());
    let start_again = {
        let (given, marks, asked) = (given.clone(), marks.clone(), asked.clone());
        Callback::from(move |_: MouseEvent| {
            given.set(Given { over: true, ..work::given(given.version + 1, Vec::new()) });
            marks.set(None);
            asked.set(None);
        })
    };
    let line_marks = {
        let live = live.clone();
        use_memo((*marks).clone(), move |marks| {
            marks.as_ref().map(|marks| on_surface(&live.now(), marks)).unwrap_or_default()
        })
    };

    let meant = {
        // Where this page can write braille.
        let asked = (prompt.clone(), contracted, *free);
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
    let on_open = {
        let asked = asked.clone();
        Callback::from(move |open: Option<usize>| asked.set(open))
    };
    let book = {
        let marks = marks.clone();
        Callback::from(move |booked: Booked| {
            let Some(now) = marks.as_ref() else { return };
            let mut marked = (**now).clone();
            marked.summary.book(booked);
            marks.set(Some(Rc::new(marked)));
        })
    };

    html! {
        <div class="desk">
            <div class="copyholder" data-copy="" aria-live="polite">
                if *free {
                    <p class="print soft" id="copy-line">{ "Write what you like." }</p>
                } else {
                    <p class="print" id="copy-line">
                        if !from.is_empty() { <span class="from">{ &from }</span> }
                        { shown(&prompt, &settings) }
                    </p>
                }
                <div class="controls">
                    if !*free && count > 1 {
                        <span class="where">{ format!("{} of {count}", *place + 1) }</span>
                        <button type="button" onclick={go(-1)}>{ "Previous" }</button>
                        <button type="button" onclick={go(1)}>{ "Next" }</button>
                    }
                </div>
            </div>
            <BrailleInput given={(*given).clone()} {on_change} marks={line_marks} asks="copy-line" {meant} contracted={props.contracted} slate={props.slate}
                read_only={props.read_only} reads={under} />
            <div class="controls under">
                if !*free && !props.read_only {
                    <button type="button" class="main" onclick={mark} disabled={*empty}>{ "Mark my work" }</button>
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
            <KeptWork live={live.clone()} {name} version={given.version} />
            if *awaited { <Elsewhere piece={Some(Piece::Marks)} /> }
            // It stands there before anything is marked.
            { later.here(Piece::Marks, MarksProps {
                print: prompt.clone(), contracted, written: if marks.is_some() { Rc::new(live.now().cells()) } else { Rc::default() }, marked: (*marks).clone(), open: *asked, on_open,
                on_book: book,
            }).unwrap_or_default() }
            if hidden {
                <p class="note">{ "What it reads as is shown when you mark your work." }</p>
            } else {
                <ReadsAs live={live.clone()} follows={under} />
            }
            <div class="controls">
                if own {
                    { switch("Write freely, without a prompt", *free, without) }
                }
                // Of set work nothing but its slip goes out.
                if own {
                    { later.here(Piece::CopyLink, CopyLinkProps {
                        title: from.into(), print: (!*free).then_some(prompt), contracted, live: live.clone(),
                    }).unwrap_or_default() }
                }
            </div>
            { later.fold(Piece::WritingSettings, writing_settings::LINE, writing_settings::CLASS, ()) }
        </div>
    }
}
