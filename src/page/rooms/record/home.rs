//! Record, everything taken home in one file and opened elsewhere: merged, nothing doubled, nothing overwritten in silence.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::long_work;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::store::{self, StoreError};
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::settings::use_settings;
use crate::page::states::home::file::Home;
use crate::page::states::home::keys::called;
use crate::page::states::home::merge::merge;
use crate::page::widgets::cells_line::shown;
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::take_home::{TakeHome, keep_known, known, pieces, whole_key};
use crate::practice::record::Record;

/// A file that was read.
#[derive(Clone, PartialEq)]
struct Opened {
    home: Home,
    record: Record,
    size: usize,
}

/// What came of opening it.
#[derive(Clone, Default, PartialEq)]
struct Report {
    says: Vec<String>,
    /// Pieces that were changed in both places: their keys, and what the file has.
    differs: Vec<(String, String)>,
    /// Pieces that have been put away here since.
    put_away: Vec<String>,
}

/// Merges a file with what is here.
fn take_in(learner: &LearnerHandle, opened: &Opened, back: bool) -> Report {
    let before = known();
    let mut merged = merge(&pieces(), &before, &opened.home, back);
    let mut trouble: Option<StoreError> = None;
    for (key, text) in &merged.put {
        if let Err(why) = store::keep_text(&whole_key(key), text) {
            trouble = Some(why);
            // What is not stored was never here: opened again, it is no piece that was put away.
            match before.get(key) {
                Some(was) => merged.known.insert(key.clone(), was.clone()),
                None => merged.known.remove(key),
            };
        }
    }
    let mut lost = 0;
    for (key, text) in &merged.aside {
        lost += usize::from(store::put_aside(&whole_key(key), text).is_err());
    }
    keep_known(&merged.known);
    let (entries, not_kept) = learner.merge(opened.record.clone());
    let mut says = merged.told.words(entries);
    if let Some(why) = not_kept.or(trouble) {
        says.push(format!("It holds for as long as this page is open. {}", why.words()));
    }
    if lost > 0 {
        says.push("There is no room to set aside what differs: it is still in your file.".to_owned());
    }
    let theirs = |key: String| {
        let text = opened.home.pieces.get(&key).map(|piece| piece.text.clone());
        text.map(|text| (key, text))
    };
    Report {
        says,
        differs: merged.told.differs.into_iter().filter_map(theirs).collect(),
        put_away: merged.told.put_away,
    }
}

/// Puts what the file has in the place of what is here, which is set aside.
fn exchange(key: &str, text: &str) -> Result<(), StoreError> {
    let key = whole_key(key);
    if let Some(here) = store::text(&key) {
        store::put_aside(&key, &here)?;
    }
    store::keep_text(&key, text)
}

/// Whose work it is.
#[derive(Properties, PartialEq)]
pub struct HomeProps {
    /// The learner, as the room has them: what comes in shows in all of it.
    pub learner: LearnerHandle,
}

/// The section.
#[component]
pub fn HomeView(props: &HomeProps) -> Html {
    let (learner, settings) = (props.learner.clone(), use_settings());
    let opened = use_held(|| None::<Rc<Opened>>);
    let report = use_held(|| None::<Report>);
    let asked = use_held(|| false);
    let said = use_held(String::new);
    let open = {
        let (opened, report, asked, said) = (opened.clone(), report.clone(), asked.clone(), said.clone());
        Callback::from(move |(_, text): (String, Rc<str>)| {
            report.set(None);
            match Home::from_text(&text) {
                Ok((home, record)) => {
                    said.set(String::new());
                    opened.set(Some(Rc::new(Opened { home, record, size: text.len() })));
                    asked.set(true);
                }
                Err(error) => {
                    opened.set(None);
                    asked.set(false);
                    said.set(error.to_string());
                }
            }
        })
    };
    let refuse = {
        let said = said.clone();
        Callback::from(move |why: String| said.set(why))
    };
    let take = |back: bool| {
        let (opened, report, asked) = (opened.clone(), report.clone(), asked.clone());
        let (learner, settings) = (learner.clone(), settings.clone());
        Callback::from(move |_: MouseEvent| {
            let Some(opened) = (*opened).clone() else { return };
            let (report, asked) = (report.clone(), asked.clone());
            let (learner, settings) = (learner.clone(), settings.clone());
            long_work::on(opened.size, move || {
                asked.set(false);
                report.set(Some(take_in(&learner, &opened, back)));
                settings.read_anew();
            });
        })
    };
    let not_now = {
        let (opened, asked) = (opened.clone(), asked.clone());
        Callback::from(move |_: MouseEvent| {
            opened.set(None);
            asked.set(false);
        })
    };
    let question = use_focus(u32::from(*asked));
    html! {
        <section class="take-home" aria-label="Take it home">
            <h2>{ "Take it home" }</h2>
            <p>{ "One file holds everything that you have here: your record, drafts, own texts, exercises, class sheet and settings. Open it on another computer, and it is merged with what is there. Opened twice, it adds nothing." }</p>
            <TakeHome />
            <OpenFile label="Open what you took along" accept=".txt,text/plain" {open} {refuse} at_once=true />
            if let Some(opened) = (*opened).as_ref().filter(|_| *asked) {
                <div class="question" role="alertdialog" aria-label="Take it in?">
                    <p>{ whose(&opened.home, &shown(&opened.home.name, &settings)) }</p>
                    <div class="controls">
                        <button type="button" ref={question} class="main" onclick={take(false)}>{ "Take it in" }</button>
                        <button type="button" class="quiet" onclick={not_now}>{ "Not now" }</button>
                    </div>
                </div>
            }
            <div role="status" aria-label="Taken in">
                { (*said).clone() }
                if let Some(report) = &*report { { for report.says.iter().map(|say| html! { <p>{ shown(say, &settings) }</p> }) } }
            </div>
            if let Some(report) = &*report {
                if !report.differs.is_empty() { <Differing all={report.differs.clone()} /> }
                if !report.put_away.is_empty() {
                    <p class="controls"><button type="button" onclick={take(true)}>{ "Bring back what was put away" }</button></p>
                }
            }
        </section>
    }
}

/// Whose file it is, what it holds, and among whose work it would go.
fn whose(home: &Home, name: &str) -> String {
    let of = if name.is_empty() { String::new() } else { format!(" of {name}") };
    let saved = if home.day.is_empty() { String::new() } else { format!(", saved on {},", home.day) };
    let pieces = match home.pieces.len() {
        1 => "1 piece of work or setting".to_owned(),
        many => format!("{many} pieces of work and settings"),
    };
    let here = match store::person() {
        Some(here) if here != home.name => {
            let here = if here.is_empty() { "the first person".to_owned() } else { here };
            format!(
                "You are {here} here: it would go in among what {here} has. Change the person first if it is not yours."
            )
        }
        _ => "It is merged with what is here.".to_owned(),
    };
    format!("This file{of}{saved} holds the record and {pieces}. {here} Nothing that is here is lost by it.")
}

#[derive(Properties, PartialEq)]
struct DifferingProps {
    all: Vec<(String, String)>,
}

/// What was changed in both places, each with the way to the other.
#[component]
fn Differing(props: &DifferingProps) -> Html {
    let (done, said) = (use_held(Vec::<String>::new), use_held(String::new));
    let settings = use_settings();
    let row = |(key, text): &(String, String)| {
        let onclick = {
            let (key, text) = (key.clone(), text.clone());
            let (done, said, settings) = (done.clone(), said.clone(), settings.clone());
            Callback::from(move |_: MouseEvent| match exchange(&key, &text) {
                Ok(()) => {
                    said.set(format!(
                        "{}: what the file has is here now, and what was here is set aside.",
                        called(&key)
                    ));
                    done.set(done.iter().cloned().chain([key.clone()]).collect());
                    settings.read_anew();
                }
                Err(why) => said.set(format!("Nothing was changed. {}", why.words())),
            })
        };
        html! {
            <li>{ called(key) }{ " " }
                if done.contains(key) { <em>{ "exchanged" }</em> } else {
                    <button type="button" aria-label={format!("Take the file’s instead: {}", called(key))} {onclick}>{ "Take the file’s instead" }</button>
                }
            </li>
        }
    };
    html! {
        <>
            <ul class="differing">{ for props.all.iter().map(row) }</ul>
            <p role="status">{ (*said).clone() }</p>
        </>
    }
}
