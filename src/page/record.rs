//! The room "Record": what is due, accuracy, speed, confusions; save and load.

use gloo::file::callbacks::{FileReader, read_as_text};
use yew::prelude::*;

use super::learner::{now, use_learner};
use crate::practice::figures;
use crate::practice::record::Record;
use crate::ueb::register;

fn called(key: &str) -> String {
    register::by_key(key).map_or_else(|| key.to_owned(), crate::practice::drill::asked_as)
}

fn encoded(text: &str) -> String {
    web_sys::js_sys::encode_uri_component(text).into()
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let said = use_state_eq(String::new);
    let reader = use_mut_ref(|| None::<FileReader>);
    let load = {
        let (learner, said, reader) = (learner.clone(), said.clone(), reader.clone());
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
            let (learner, said) = (learner.clone(), said.clone());
            let task = read_as_text(&gloo::file::Blob::from(gloo::file::File::from(file)), move |text| {
                said.set(match text.map(|text| Record::parse(&text)) {
                    Ok(Ok((record, damaged))) => {
                        let count = record.len();
                        learner.merge(record);
                        let lost = if damaged.is_empty() {
                            String::new()
                        } else {
                            format!(
                                " {} lines could not be read; they are still in your file.",
                                damaged.len()
                            )
                        };
                        format!("{count} entries taken in beside those here.{lost}")
                    }
                    Ok(Err(error)) => error.words().to_owned(),
                    Err(_) => "The file could not be read. Choose it again.".to_owned(),
                });
            });
            *reader.borrow_mut() = Some(task);
        })
    };
    let figures = figures::of(&learner.record);
    let due = learner.memories.due(now()).len();
    let file = format!("data:text/plain;charset=utf-8,{}", encoded(&learner.record.to_text()));
    let last = figures.days.len().saturating_sub(1).max(1) as f64;
    let points: Vec<String> = figures
        .days
        .iter()
        .enumerate()
        .map(|(n, (_, _, share))| {
            format!("{:.1},{:.1}", 10.0 + n as f64 * 580.0 / last, 150.0 - share * 140.0)
        })
        .collect();
    let causes: u32 = figures.causes.iter().sum();
    html! {
        <>
            <h1>{ "Record" }</h1>
            if let Some(trouble) = learner.trouble { <p class="alert" role="alert">{ trouble }</p> }
            <dl class="figures">
                <div><dt>{ "Due now" }</dt><dd>{ due }</dd></div>
                <div><dt>{ "Right at first sight" }</dt><dd>{ if figures.answers == 0 { "–".to_owned() } else { format!("{:.0}%", figures.accuracy * 100.0) } }</dd></div>
                <div><dt>{ "Time for a sign" }</dt><dd>{ if figures.median_ms == 0 { "–".to_owned() } else { format!("{:.1} s", figures.median_ms as f64 / 1000.0) } }</dd></div>
            </dl>
            <p class="note">{ format!("{} answers, {} minutes practised, {} words and {} cells read.", figures.answers, figures.practised_ms / 60_000, figures.read.0, figures.read.1) }</p>
            <h2>{ "Over time" }</h2>
            if figures.days.is_empty() {
                <p>{ "Nothing recorded yet. The line begins with your first answer." }</p>
            } else {
                <svg class="plot" viewBox="0 0 600 160" role="img" aria-label={format!("Share right at first sight on {} days, last {:.0}%", figures.days.len(), figures.days.last().map_or(0.0, |day| day.2) * 100.0)}>
                    <path d="M10 10H590M10 80H590M10 150H590" class="grid" />
                    <polyline points={points.join(" ")} />
                    { for points.iter().filter_map(|point| point.split_once(',')).map(|(x, y)| html! { <circle cx={x.to_owned()} cy={y.to_owned()} r="4" /> }) }
                </svg>
            }
            <h2>{ "Taken for each other" }</h2>
            if figures.confusions.is_empty() {
                <p>{ "No confusions recorded." }</p>
            } else {
                <table>
                    <thead><tr><th scope="col">{ "Asked" }</th><th scope="col">{ "Answered" }</th><th scope="col">{ "Times" }</th></tr></thead>
                    <tbody>{ for figures.confusions.iter().take(12).map(|(sign, instead, times)| html! {
                        <tr><td>{ called(sign) }</td><td>{ called(instead) }</td><td>{ *times }</td></tr>
                    }) }</tbody>
                </table>
            }
            if causes > 0 {
                <h2>{ "Eye, hand, rule" }</h2>
                <p>{ format!("Of {causes} slips with a known cause: eye {}, hand {}, rule {}.", figures.causes[0], figures.causes[1], figures.causes[2]) }</p>
            }
            <h2>{ "Keep it" }</h2>
            <p>{ "The record is kept in this browser only. Save it to a file to take it elsewhere." }</p>
            <div class="controls">
                <a class="button" href={file} download="cellwright-record.txt">{ "Save the record" }</a>
                <label>{ "Load a record " }<input type="file" accept=".txt,text/plain" onchange={load} /></label>
            </div>
            <p role="status">{ (*said).clone() }</p>
        </>
    }
}
