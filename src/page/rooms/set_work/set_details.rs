//! Set work, what belongs to one task: signs and units, planted mistakes, a trial's pass line.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::{Look, Plants};
use crate::exercise::{Exercise, Task, Trial};
use crate::marking::plant::KINDS;
use crate::page::browser::held::use_held;
use crate::page::widgets::switch::Switch;
use crate::practice::units;
use crate::ueb::register::{self, Sign};

/// An exercise in the making.
#[derive(Properties, PartialEq)]
pub struct DetailsProps {
    /// The exercise.
    pub set: Rc<Exercise>,
    /// Called with the exercise as changed.
    pub put: Callback<Exercise>,
}

/// Which signs are asked: whole units of the course, or signs by their keys.
#[component]
pub fn SignChoice(props: &DetailsProps) -> Html {
    let set = &props.set;
    let hits = use_held(|| None::<Vec<&'static str>>);
    let unit = |at: usize| {
        let (set, put) = (set.clone(), props.put.clone());
        Callback::from(move |on: bool| {
            let signs = &units::units()[at].signs;
            let mut new = (*set).clone();
            new.signs.retain(|key| !signs.contains(&key.as_str()));
            if on {
                new.signs.extend(signs.iter().map(|key| (*key).to_owned()));
            }
            put.emit(new);
        })
    };
    let single = {
        let (set, put, hits) = (set.clone(), props.put.clone(), hits.clone());
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let exact = register::by_key(input.value().trim());
            let keys = match exact {
                Some(sign) => vec![sign.key],
                None => found(&input.value()),
            };
            match keys[..] {
                [key] => {
                    let mut new = (*set).clone();
                    new.signs.retain(|own| own != key);
                    new.signs.push(key.to_owned());
                    put.emit(new);
                    input.set_value("");
                    hits.set(None);
                }
                _ => hits.set(Some(keys)),
            }
        })
    };
    let take = |key: &'static str| {
        let (set, put, hits) = (set.clone(), props.put.clone(), hits.clone());
        Callback::from(move |_: MouseEvent| {
            let mut new = (*set).clone();
            new.signs.retain(|own| own != key);
            new.signs.push(key.to_owned());
            put.emit(new);
            hits.set(None);
        })
    };
    let remove = |key: String| {
        let (set, put) = (set.clone(), props.put.clone());
        Callback::from(move |_: MouseEvent| {
            let mut new = (*set).clone();
            new.signs.retain(|other| *other != key);
            put.emit(new);
        })
    };
    html! {
        <details class="more" open={!set.signs.is_empty()}>
            <summary>{ format!("Signs in place of a text ({})", set.signs.len()) }</summary>
            <p class="note">{ "Choose units of the course or single signs; then the text is not asked. With “how many items” they come round again." }</p>
            <fieldset>
                <legend>{ "Units" }</legend>
                <div class="set units">
                    { for units::units().iter().enumerate().filter(|(_, one)| !one.signs.is_empty()).map(|(at, one)| html! {
                        <Switch label={one.title} on={one.signs.iter().all(|key| set.signs.iter().any(|own| own == key))} set={unit(at)} />
                    }) }
                </div>
            </fieldset>
            <label>{ "A single sign: its print, a part of its name, or its dot numbers " }
                <input type="text" list="signs-to-set" autocomplete="off" onchange={single} />
            </label>
            <datalist id="signs-to-set">{ for register::signs().iter().map(|sign| html! { <option value={sign.key} /> }) }</datalist>
            <div role="status" aria-label="Signs found">
                if let Some(hits) = &*hits {
                    if hits.is_empty() { <p>{ "No sign is called so. Type its print, a part of its name, or its dot numbers." }</p> }
                    { for hits.iter().map(|key| html! { <button type="button" class="quiet" onclick={take(key)}>{ format!("Add {key}") }</button> }) }
                }
            </div>
            <ul class="chosen-signs">
                { for set.signs.iter().map(|key| html! {
                    <li><button type="button" class="quiet" onclick={remove(key.clone())} aria-label={format!("Take off {key}")}>{ format!("{key} ×") }</button></li>
                }) }
            </ul>
        </details>
    }
}

/// The keys of the signs that are called so: those whose print it is, or else whose name it is part of, or whose dots.
fn found(typed: &str) -> Vec<&'static str> {
    let typed = typed.trim().to_lowercase();
    let cells: Option<Vec<Cell>> =
        typed.split([' ', ',']).filter(|part| !part.is_empty()).map(Cell::from_dot_numbers).collect();
    let all = |fits: &dyn Fn(&Sign) -> bool| -> Vec<&'static str> {
        register::signs().iter().filter(|sign| fits(sign)).map(|sign| sign.key).collect()
    };
    if typed.is_empty() {
        return Vec::new();
    }
    if let Some(cells) = cells.filter(|cells| !cells.is_empty()) {
        return all(&|sign| sign.cells == cells);
    }
    let by_print = all(&|sign| sign.print.to_lowercase() == typed);
    if !by_print.is_empty() { by_print } else { all(&|sign| sign.name.to_lowercase().contains(&typed)) }
}

/// What only proofreading or transcribing has.
#[component]
pub fn TaskDetails(props: &DetailsProps) -> Html {
    match props.set.task {
        Task::Proofread => html! { <PlantChoice set={props.set.clone()} put={props.put.clone()} /> },
        Task::Transcribe => html! { <TrialChoice set={props.set.clone()} put={props.put.clone()} /> },
        _ => html! {},
    }
}

/// Puts a chosen value into the plants.
type Change = Rc<dyn Fn(&mut Plants, String)>;

#[component]
fn PlantChoice(props: &DetailsProps) -> Html {
    let set = &props.set;
    let plants = set.plants.clone().unwrap_or_default();
    let change = |with: Change| {
        let (set, put, plants) = (set.clone(), props.put.clone(), plants.clone());
        move |value: String| {
            let mut new = plants.clone();
            with(&mut new, value);
            put.emit(Exercise { plants: Some(new), ..(*set).clone() });
        }
    };
    let rate =
        change(Rc::new(|plants, value| plants.rate = value.parse::<u16>().unwrap_or(20).clamp(1, 200)));
    let look = change(Rc::new(|plants, value| {
        plants.look = Look::ALL.into_iter().find(|look| look.name() == value).unwrap_or_default();
    }));
    let again = change(Rc::new(|plants, _| plants.seed = plants.seed.wrapping_add(1)));
    let beside = change(Rc::new(|plants, value| plants.beside = value == "on"));
    let kind = |name: &'static str| {
        let toggle = change(Rc::new(move |plants, value| {
            plants.kinds.retain(|own| own != name);
            if value == "on" {
                plants.kinds.push(name.to_owned());
            }
        }));
        Callback::from(move |on: bool| toggle(if on { "on" } else { "off" }.to_owned()))
    };
    html! {
        <fieldset>
            <legend>{ "Mistakes to find" }</legend>
            <div class="set">
                <label>{ "About so many in 1,000 cells" }<br />
                    <input type="number" min="1" max="200" value={plants.rate.to_string()} onchange={move |event: Event| rate(event.target_unchecked_into::<web_sys::HtmlInputElement>().value())} />
                </label>
                <label>{ "Look" }<br />
                    <select onchange={move |event: Event| look(event.target_unchecked_into::<web_sys::HtmlSelectElement>().value())}>
                        { for Look::ALL.iter().map(|one| html! { <option value={one.name()} selected={*one == plants.look}>{ one.name() }</option> }) }
                    </select>
                </label>
                <Switch label="Print beside it" on={plants.beside} set={Callback::from(move |on: bool| beside(if on { "on" } else { "off" }.to_owned()))} />
                <button type="button" onclick={move |_: MouseEvent| again(String::new())}>{ "Plant other mistakes" }</button>
            </div>
            <p class="note">{ "Kinds (none chosen: all of them)" }</p>
            <div class="set">
                { for KINDS.iter().map(|one| html! {
                    <Switch label={one.words()} on={plants.kinds.iter().any(|name| name == one.name())} set={kind(one.name())} />
                }) }
            </div>
        </fieldset>
    }
}

#[component]
fn TrialChoice(props: &DetailsProps) -> Html {
    let set = &props.set;
    let trial = set.trial;
    let put_trial = {
        let (set, put) = (set.clone(), props.put.clone());
        move |trial: Option<Trial>| {
            // A trial goes without help and without answers.
            let help = set.help && trial.is_none();
            put.emit(Exercise { trial, help, answers: set.answers && trial.is_none(), ..(*set).clone() });
        }
    };
    let on = {
        let put_trial = put_trial.clone();
        Callback::from(move |on: bool| put_trial(on.then(Trial::default)))
    };
    let tenths = {
        let put_trial = put_trial.clone();
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let (Some(trial), Ok(mistakes)) = (trial, input.value().parse::<f64>()) {
                put_trial(Some(Trial {
                    tenths: (mistakes.clamp(0.0, 100.0) * 10.0).round() as u16,
                    ..trial
                }));
            }
        })
    };
    let tries = Callback::from(move |event: Event| {
        let input: web_sys::HtmlInputElement = event.target_unchecked_into();
        if let (Some(trial), Ok(tries)) = (trial, input.value().parse::<u8>()) {
            put_trial(Some(Trial { tries: tries.clamp(1, 5), ..trial }));
        }
    });
    let answers = {
        let (set, put) = (set.clone(), props.put.clone());
        Callback::from(move |answers: bool| put.emit(Exercise { answers, ..(*set).clone() }))
    };
    html! {
        <fieldset>
            <legend>{ "Handing in" }</legend>
            <div class="set">
                <Switch label="A trial hand-in, without help" on={trial.is_some()} set={on} />
                if let Some(trial) = trial {
                    <label>{ "Pass line: mistakes a page at most" }<br /><input type="number" min="0" max="100" step="0.5" value={format!("{}", f64::from(trial.tenths) / 10.0)} onchange={tenths} /></label>
                    <label>{ "Tries" }<br /><input type="number" min="1" max="5" value={trial.tries.to_string()} onchange={tries} /></label>
                } else {
                    <Switch label="Answers may be looked at before an attempt" on={set.answers} set={answers} />
                }
            </div>
        </fieldset>
    }
}
