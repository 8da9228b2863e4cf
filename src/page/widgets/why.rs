//! "Why?": the signs that a print text asks for, each with its name, class and section, and the contractions that were
//! not used, each with its reason.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::CellsLine;
use crate::ueb::{self, Options, register};

/// The print to explain.
#[derive(Properties, PartialEq)]
pub struct WhyProps {
    /// The whole print, since rules look at neighbours.
    pub print: AttrValue,
    /// Contracted or not.
    pub contracted: bool,
    /// Only the signs whose cells begin in this range; everything by default.
    #[prop_or_default]
    pub cells: Option<(usize, usize)>,
}

/// The signs of a print text and the reason for each.
#[component]
pub fn Why(props: &WhyProps) -> Html {
    let edition = use_settings().edition();
    let options = Options { contracted: props.contracted, edition, ..Options::default() };
    let told = ueb::explain(&props.print, &options);
    let characters: Vec<char> = props.print.chars().collect();
    let (from, to) = props.cells.unwrap_or((0, told.cells.len()));
    let of = |range: &std::ops::Range<usize>| -> String {
        characters.get(range.clone()).map(|part| part.iter().collect()).unwrap_or_default()
    };
    let signs: Vec<_> = told
        .signs
        .iter()
        .filter(|sign| (from..to).contains(&sign.cells.start))
        .filter(|sign| register::get(sign.sign).class != register::Class::Space)
        .collect();
    let print_from = signs.iter().filter(|sign| !sign.print.is_empty()).map(|sign| sign.print.start).min();
    let print_to = signs.iter().map(|sign| sign.print.end).max();
    let passed: Vec<_> = told
        .passed_over
        .iter()
        .filter(|over| {
            print_from.is_some_and(|from| over.print.start >= from)
                && print_to.is_some_and(|to| over.print.end <= to)
        })
        .collect();
    let region = match props.cells {
        None => "Signs of the whole text and their reasons".to_owned(),
        Some((from, to)) => format!("Signs of cells {} to {to} and their reasons", from + 1),
    };
    html! {
        <div class="why">
            <div class="scroll" tabindex="0" role="group" aria-label={region}>
                <table>
                    <thead><tr><th scope="col">{ "Cells" }</th><th scope="col">{ "Print" }</th><th scope="col">{ "Sign" }</th><th scope="col">{ "Section" }</th></tr></thead>
                    <tbody>
                        { for signs.iter().map(|sign| {
                            let entry = register::get(sign.sign);
                            let cells: Rc<[Cell]> = told.cells.get(sign.cells.clone()).unwrap_or_default().into();
                            html! {
                                <tr>
                                    <td><CellsLine {cells} dot={Some(6.0)} /></td>
                                    <td class="serif">{ of(&sign.print) }</td>
                                    <td>{ crate::page::widgets::cells_line::without_glyphs(entry.name) }<span class="kind">{ format!("{}{}", entry.class.name(), if sign.choice.is_some() { " (your choice here)" } else { "" }) }</span></td>
                                    <td>{ sign.section }</td>
                                </tr>
                            }
                        }) }
                    </tbody>
                </table>
            </div>
            if !passed.is_empty() {
                <h3>{ "Not used here" }</h3>
                <ul>
                    { for passed.iter().map(|over| html! {
                        <li><b>{ of(&over.print) }</b>{ format!(": {} (section {})", over.why, over.section) }</li>
                    }) }
                </ul>
            }
            if !told.unhandled.is_empty() {
                <p class="alert">{ format!("No sign is known here for: {}", told.unhandled.iter().map(|one| one.character).collect::<String>()) }</p>
            }
        </div>
    }
}
