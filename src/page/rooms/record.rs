//! The room "Record": what is due, accuracy, speed, confusions, the way to a goal; save and load.

pub mod goal;
pub mod home;
pub mod no_trace;
pub mod people;

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{local_day, now};
use crate::page::browser::held::use_held;
use crate::page::browser::long_work;
use crate::page::browser::open_file::OpenFile;
use crate::page::browser::store;
use crate::page::learner::journal::use_learner;
use crate::page::rooms::record::goal::GoalView;
use crate::page::rooms::record::home::HomeView;
use crate::page::rooms::record::no_trace::NoTrace;
use crate::page::rooms::record::people::PeopleView;
use crate::page::widgets::store_notice::what_was_set_aside;
use crate::practice::figures::{self, Figures};
use crate::practice::record::Record;
use crate::ueb::register;

/// Letters of one entry of a record, about.
const ENTRY: usize = 50;

fn called(key: &str) -> String {
    register::by_key(key).map_or_else(|| key.to_owned(), crate::practice::drill::asked_as)
}

/// A link's address that holds a whole text.
fn file_of(text: &str) -> String {
    format!("data:text/plain;charset=utf-8,{}", String::from(web_sys::js_sys::encode_uri_component(text)))
}

fn seconds(ms: u64) -> String {
    if ms == 0 { "–".to_owned() } else { format!("{:.1} s", ms as f64 / 1000.0) }
}

fn time(ms: u64) -> String {
    match ms / 60_000 {
        0 => "less than a minute".to_owned(),
        n if n < 120 => format!("{n} min"),
        n => format!("{} h {} min", n / 60, n % 60),
    }
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let said = use_held(String::new);
    // A file that was read and waits for the answer: merge, or replace?
    let waiting = use_state(|| None::<(Record, usize)>);
    let open = {
        let (said, waiting) = (said.clone(), waiting.clone());
        Callback::from(move |(_, text): (String, Rc<str>)| match Record::parse(&text) {
            Ok((record, damaged)) => {
                said.set(String::new());
                waiting.set(Some((record, damaged.len())));
            }
            Err(error) => said.set(error.words().to_owned()),
        })
    };
    let refuse = {
        let said = said.clone();
        Callback::from(move |why: String| said.set(why))
    };
    let settle = |replace: bool| {
        let (said, waiting, learner) = (said.clone(), waiting.clone(), learner.clone());
        Callback::from(move |_: MouseEvent| {
            let Some((record, damaged)) = (*waiting).clone() else { return };
            let (said, waiting, learner) = (said.clone(), waiting.clone(), learner.clone());
            long_work::on(record.len() * ENTRY, move || {
                let count = record.len();
                let done = match replace {
                    true => learner.replace(record).map(|()| format!("{count} entries are the record now.")),
                    false => Ok(match learner.merge(record) {
                        (0, _) => "All of it is here already.".to_owned(),
                        (1, None) => "1 new entry taken in beside those here.".to_owned(),
                        (new, None) => format!("{new} new entries taken in beside those here."),
                        (new, Some(why)) => {
                            format!("{new} taken in for as long as this page is open. {}", why.words())
                        }
                    }),
                };
                said.set(format!(
                    "{}{}",
                    done.unwrap_or_else(|error| format!("Nothing was changed. {}", error.words())),
                    match damaged {
                        0 => String::new(),
                        1 => " 1 line could not be read; it is still in your file.".to_owned(),
                        n => format!(" {n} lines could not be read; they are still in your file."),
                    }
                ));
                waiting.set(None);
            });
        })
    };
    let forget = {
        let waiting = waiting.clone();
        Callback::from(move |_: MouseEvent| waiting.set(None))
    };
    let record = &learner.record;
    let figures = figures::of(record, local_day());
    let due = learner.memories.kept.due(now()).len();
    let question = crate::page::widgets::fields::use_focus(u32::from(waiting.is_some()));
    html! {
        <>
            <h1>{ "Record" }</h1>
            if let Some(trouble) = learner.trouble { <p class="alert" role="alert">{ trouble }</p> }
            <dl class="figures">
                <div><dt>{ "Due now" }</dt><dd>{ due }</dd></div>
                <div><dt>{ "Right at first sight" }</dt><dd>{ if figures.answers == 0 { "–".to_owned() } else { format!("{:.0}%", figures.accuracy * 100.0) } }</dd></div>
                <div><dt>{ "Time for a sign" }</dt><dd>{ seconds(figures.median_ms) }</dd></div>
            </dl>
            if figures.answers > 0 || figures.read.1 > 0 || !figures.runs.is_empty() {
            <p class="note">{ format!("{} answer{}; practised for {}; {} words and {} cells read.", figures.answers, if figures.answers == 1 { "" } else { "s" }, time(figures.practised_ms), figures.read.0, figures.read.1) }
                { if let (Some((a_minute, right)), best) = (figures.runs.last(), figures.runs.iter().map(|run| run.0).fold(0.0, f64::max)) {
                    format!(" Six keys: {a_minute:.0} cells a minute in the last run ({:.0}% right), {best:.0} in the fastest.", right * 100.0)
                } else { String::new() } }</p>
            }
            <div class="two-up">
            <section>
            <h2>{ "Over time" }</h2>
            { over_time(&figures) }
            </section>
            <section>
            <h2>{ "Taken for each other" }</h2>
            if figures.confusions.is_empty() {
                <p>{ "No sign has been taken for another yet." }</p>
            } else {
                <div class="scroll"><table>
                    <thead><tr><th scope="col">{ "Asked" }</th><th scope="col">{ "Answered" }</th><th scope="col">{ "Times" }</th></tr></thead>
                    <tbody>{ for figures.confusions.iter().take(12).map(|(sign, instead, times)| html! {
                        <tr><td>{ called(sign) }</td><td>{ called(instead) }</td><td>{ *times }</td></tr>
                    }) }</tbody>
                </table></div>
            }
            </section>
            </div>
            if figures.junk > 0 { <p class="note">{ match figures.junk {
                1 => "1 wrong answer was no sign that looks like the one asked; it is not counted here.".to_owned(),
                n => format!("{n} wrong answers were no signs that look like the ones asked; they are not counted here."),
            } }</p> }
            <GoalView learner={learner.clone()} />
            { causes(&figures) }
            { per_sign(record) }
            <h2>{ "Keep it" }</h2>
            <p>{ if learner.keeps_nothing() {
                "Nothing leaves this computer. Save the record to a file before you close the page, and load it here when you come back."
            } else {
                "The record is kept in this browser only; nothing leaves this computer. Save it to a file to take just the record elsewhere."
            } }</p>
            <div class="controls">
                <a class="button" href={file_of(&record.to_text())} download="cellwright-record.txt">{ "Save the record" }</a>
                if store::has_aside() && !store::has_new_aside() { { what_was_set_aside() } }
            </div>
            <OpenFile label="Load a record" accept=".txt,text/plain" {open} {refuse} />
            if let Some((new, damaged)) = &*waiting {
                <div class="question" role="alertdialog" aria-label="Merge or replace?">
                    <p>{ format!("The file has {} entries{}. Your record here has {}.", new.len(),
                        if *damaged == 0 { String::new() } else { format!(" and {damaged} lines that cannot be read") }, record.len()) }</p>
                    <div class="controls">
                        <button type="button" ref={question} class="main" onclick={settle(false)}>{ "Merge: keep both" }</button>
                        <button type="button" onclick={settle(true)}>{ "Replace: what is here is lost" }</button>
                        <button type="button" class="quiet" onclick={forget}>{ "Neither" }</button>
                    </div>
                </div>
            }
            <p role="status">{ (*said).clone() }</p>
            <HomeView learner={learner.clone()} />
            <PeopleView />
            <NoTrace />
        </>
    }
}

/// The share right at first sight, day by day: a line, and the same as a table.
fn over_time(figures: &Figures) -> Html {
    let days = &figures.days;
    let (Some(first), Some(last)) = (days.first(), days.last()) else {
        return html! { <p>{ "Nothing recorded yet. The line begins with your first answer: " }<a href="#/">{ "read a line or practise" }</a>{ "." }</p> };
    };
    let span = (last.0 - first.0).max(1) as f64;
    let points: Vec<(f64, f64)> = days
        .iter()
        .map(|(day, _, share)| (50.0 + (day - first.0) as f64 * 530.0 / span, 150.0 - share * 140.0))
        .collect();
    let line = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect::<Vec<_>>().join(" ");
    let says = format!(
        "Share right at first sight on {} days, last {:.0}%; the same as a table below",
        days.len(),
        last.2 * 100.0
    );
    html! {
        <>
            <svg class="plot" viewBox="0 0 600 180" role="img" aria-label={says}>
                <path d="M50 10H580M50 80H580M50 150H580" class="grid" />
                <text x="44" y="14" text-anchor="end">{ "100%" }</text><text x="44" y="84" text-anchor="end">{ "50%" }</text><text x="44" y="154" text-anchor="end">{ "0%" }</text>
                <text x="50" y="174">{ figures::date(first.0) }</text>
                if days.len() > 1 { <text x="580" y="174" text-anchor="end">{ figures::date(last.0) }</text> }
                <polyline points={line} />
                { for points.iter().map(|(x, y)| html! { <circle cx={format!("{x:.1}")} cy={format!("{y:.1}")} r="4" /> }) }
            </svg>
            <details><summary>{ "As a table" }</summary>
                <table>
                    <thead><tr><th scope="col">{ "Day" }</th><th scope="col">{ "Answers" }</th><th scope="col">{ "Right at first sight" }</th></tr></thead>
                    <tbody>{ for days.iter().rev().map(|(day, answers, share)| html! {
                        <tr><td>{ figures::date(*day) }</td><td>{ *answers }</td><td>{ format!("{:.0}%", share * 100.0) }</td></tr>
                    }) }</tbody>
                </table>
            </details>
        </>
    }
}

fn causes(figures: &Figures) -> Html {
    let all: u32 = figures.causes.iter().sum();
    if all == 0 {
        return html! {};
    }
    html! {
        <>
            <h2>{ "Eye, hand, rule" }</h2>
            <div class="causes">{ for figures.causes.iter().zip(["eye", "hand", "rule"]).filter(|(n, _)| **n > 0).map(|(count, name)| html! {
                <span style={format!("flex-grow:{count}")}>{ format!("{name} {count}") }</span>
            }) }</div>
            <p class="note">{ format!("Of {all} slips with a known cause.") }</p>
        </>
    }
}

/// Accuracy and time of each sign, the weakest first.
fn per_sign(record: &Record) -> Html {
    let mut signs: Vec<(String, (u32, f64, u64))> = figures::per_sign(record).into_iter().collect();
    if signs.is_empty() {
        return html! {};
    }
    signs.sort_by(|a, b| a.1.1.total_cmp(&b.1.1).then(b.1.2.cmp(&a.1.2)));
    html! {
        <details class="signs-table">
            <summary>{ format!("Sign by sign, the weakest first ({} sign{})", signs.len(), if signs.len() == 1 { "" } else { "s" }) }</summary>
            <div class="scroll"><table>
                <thead><tr><th scope="col">{ "Sign" }</th><th scope="col">{ "Answers" }</th><th scope="col">{ "Right at first sight" }</th><th scope="col">{ "Time" }</th></tr></thead>
                <tbody>{ for signs.iter().map(|(key, (answers, share, ms))| html! {
                    <tr><td>{ called(key) }</td><td>{ *answers }</td><td>{ format!("{:.0}%", share * 100.0) }</td><td>{ seconds(*ms) }</td></tr>
                }) }</tbody>
            </table></div>
        </details>
    }
}
