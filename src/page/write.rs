//! The room "Write": the copyholder, the writing surface, and what it reads as.

use std::rc::Rc;

use wasm_bindgen::JsValue;
use yew::prelude::*;

use super::braille_input::BrailleInput;
use super::cells_line::shown;
use super::findings::{Findings, on_surface};
use super::halves::{Elsewhere, Later, WHOLE, take_then};
use super::hand_in::HandIn;
use super::held::use_held;
use super::live::{Kept as KeptWork, Live};
use super::reads_as::ReadsAs;
use super::settings::use_settings;
use super::store;
use super::stored::{Stored, fill, object};
use super::why::Why;
use super::work;
use super::writing_settings::{self, WritingSettings};
use super::written::Written;
use crate::cell::Cell;
use crate::exercise::Exercise;
use crate::marking::cause::Booked;
use crate::marking::{self, Marked};
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
    html! {
        <>
            <h1>{ "Write" }</h1>
            <Desk />
        </>
    }
}

/// What a desk has to copy, when it does not come from the built-in prompts.
#[derive(Properties, PartialEq, Default)]
pub struct DeskProps {
    /// A text set by a teacher; the learner's own saved writing stays as it is.
    #[prop_or_default]
    pub set: Option<AttrValue>,
    /// The set text's title.
    #[prop_or_default]
    pub title: AttrValue,
    /// The reading is hidden until the work is marked.
    #[prop_or_default]
    pub hide: bool,
    /// Contracted or not, when the teacher has said so.
    #[prop_or_default]
    pub contracted: Option<bool>,
    /// Written as on a slate.
    #[prop_or_default]
    pub slate: bool,
    /// The exercise it comes from; marked work gives a result slip.
    #[prop_or_default]
    pub exercise: Option<Rc<Exercise>>,
}

/// The copyholder, the surface, the reading and the marks.
#[component]
pub fn Desk(props: &DeskProps) -> Html {
    let settings = use_settings();
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
    let task = if props.slate { "slate" } else { "write" };
    let rehearsal = use_context::<work::Rehearsal>().is_some();
    let name_of = {
        let texts = texts.clone();
        move |place: usize, free: bool| {
            if rehearsal {
                return String::new();
            }
            if free {
                return format!("work.{task}.free");
            }
            work::name_of(task, texts.get(place).map_or("", |(_, text)| text.as_str()))
        }
    };
    let name = name_of(*place, *free);
    // Followed key by key by those parts that show it; the room itself is drawn again only when there is reason to.
    let live = use_memo((), |()| Live::default());
    let empty = use_held(|| true);
    let given = use_held(|| work::given(0, work::load(&name)));
    let marks = use_held(Option::<Rc<Marked>>::default);
    let asked = use_held(Option::<usize>::default);
    let awaited = use_held(bool::default);
    let said = use_held(String::new);
    let since = use_mut_ref(super::learner::now);

    let (from, prompt) = texts.get(*place).cloned().unwrap_or_default();
    let options = Options { contracted, ..Options::default() };
    let hidden = props.hide && marks.is_none();
    let under = !hidden && (props.hide || !settings.hide_reading);

    let on_change = {
        let (live, marks, empty) = (live.clone(), marks.clone(), empty.clone());
        use_callback((), move |new: Written, ()| {
            // Findings stay while the caret moves among them; a change of the text takes them away.
            if live.tell(&new) {
                marks.set(None);
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
        let awaited = awaited.clone();
        Callback::from(move |()| {
            if !WHOLE {
                awaited.set(true);
                return;
            }
            asked.set(None);
            marks.set(Some(Rc::new(marking::mark_print(&prompt, &live.now().cells(), &options))));
        })
    };
    {
        // The first half of the page has left the marking to the whole.
        let (mark, due) = (mark.clone(), use_mut_ref(|| take_then("mark")));
        use_effect_with(*empty, move |nothing| {
            if !nothing && due.replace(false) {
                mark.emit(());
            }
        });
    }
    let mark = mark.reform(|_: MouseEvent| ());
    let start_again = {
        let begin = begin.clone();
        Callback::from(move |_: MouseEvent| begin.emit(Vec::new()))
    };
    let copy_link = {
        let (said, settings) = (said.clone(), settings.clone());
        let title = if own { from.clone() } else { props.title.to_string() };
        let (live, free, prompt) = (live.clone(), *free, prompt.clone());
        Callback::from(move |_: MouseEvent| {
            if !WHOLE {
                return;
            }
            let link = super::shared::link_of(&Exercise {
                title: title.clone(),
                text: if free { free_print(&live.now()) } else { prompt.clone() },
                contracted,
                dot_numbers_only: settings.dot_numbers_only,
                hide_reading: settings.hide_reading,
                ..Exercise::default()
            });
            let said = said.clone();
            wasm_bindgen_futures::spawn_local(async move {
                said.set(match link {
                    Err(why) => why,
                    Ok(link) => super::shared::copy(&link).await,
                });
            });
        })
    };
    let line_marks = {
        let live = live.clone();
        use_memo((*marks).clone(), move |marks| {
            marks.as_ref().filter(|_| WHOLE).map(|marks| on_surface(&live.now(), marks)).unwrap_or_default()
        })
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
            <div class="copyholder">
                if *free {
                    <p class="print soft">{ "Write what you like." }</p>
                } else {
                    <p class="print">
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
            <BrailleInput given={(*given).clone()} {on_change} marks={line_marks} contracted={props.contracted} slate={props.slate}
                reads={under} />
            <div class="controls under">
                { switch("Dot numbers only", settings.dot_numbers_only, change(&settings, |s, on| s.dot_numbers_only = on)) }
                if !props.hide {
                    { switch("Hide the reading", settings.hide_reading, change(&settings, |s, on| s.hide_reading = on)) }
                }
                if props.contracted.is_none() {
                    { switch("Contracted", settings.contracted, change(&settings, |s, on| s.contracted = on)) }
                }
                <span class="push">
                    <button type="button" class="quiet" onclick={start_again}>{ "Start again" }</button>
                    if !*free {
                        <button type="button" class="main" onclick={mark} disabled={*empty}>{ "Mark my work" }</button>
                    }
                </span>
            </div>
            <KeptWork live={live.clone()} {name} version={given.version} />
            if *awaited { <Elsewhere then="mark" /> }
            if let Some(marks) = marks.as_ref().filter(|_| WHOLE) {
                <Findings print={prompt.clone()} lines={Rc::new(live.now().cells())} marked={marks.clone()} open={*asked} {on_open}
                    on_book={Some(book)} />
                if let Some(set) = &props.exercise {
                    <HandIn slip={super::hand_in::of_writing(set, marks, &[live.now().cells()], *since.borrow(), false)} />
                }
                <details>
                    <summary>{ "Every sign of this text, and why" }</summary>
                    <Why print={prompt.clone()} {contracted} />
                </details>
            }
            if hidden {
                <p class="note">{ "What it reads as is shown when you mark your work." }</p>
            } else {
                <ReadsAs live={live.clone()} follows={under} />
            }
            <div class="controls">
                if own {
                    { switch("Write freely, without a prompt", *free, without) }
                }
                if WHOLE { <button type="button" class="quiet" onclick={copy_link}>{ "Copy link" }</button> }
                <span role="status" aria-label="Link" class="note">{ (*said).clone() }</span>
            </div>
            if WHOLE { <WritingSettings /> } else { <Later summary={writing_settings::LINE} then="writing settings" class={writing_settings::CLASS} /> }
        </div>
    }
}

/// What was written freely, in print.
fn free_print(written: &Written) -> String {
    let mut print = String::new();
    for (number, line) in written.lines().enumerate() {
        if number > 0 && !line.goes_on {
            print.push('\n');
        }
        print.push_str(&line.print);
    }
    print
}

/// A switch's way to a setting.
pub fn change(
    settings: &super::settings::SettingsHandle,
    with: impl Fn(&mut super::settings::Settings, bool) + 'static,
) -> Callback<bool> {
    let settings = settings.clone();
    Callback::from(move |on| settings.change(|settings| with(settings, on)))
}

/// A labelled checkbox.
#[derive(Properties, PartialEq)]
pub struct SwitchProps {
    /// Its name.
    pub label: AttrValue,
    /// Whether it is on.
    pub on: bool,
    /// Called with the new state.
    pub set: Callback<bool>,
}

/// A checkbox with its name beside it.
#[component]
pub fn Switch(props: &SwitchProps) -> Html {
    switch(&props.label, props.on, props.set.clone())
}

/// The same where it is no component of its own, which would weigh more.
fn switch(label: &str, on: bool, set: Callback<bool>) -> Html {
    let onchange = Callback::from(move |event: Event| {
        let input: web_sys::HtmlInputElement = event.target_unchecked_into();
        set.emit(input.checked());
    });
    html! {
        <label class="check"><input type="checkbox" checked={on} {onchange} /><span>{ label }</span></label>
    }
}
