//! Eye, hand or rule: one short question after a mistake, and what the mistake is booked to.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::{CellsLine, numbers};
use super::learner::{now, use_learner};
use crate::cell::Cell;
use crate::marking::Finding;
use crate::marking::cause::{self, Booked, Question};
use crate::practice::record::{Answer, Direction};
use crate::ueb::register;

/// A question after a mistake.
#[derive(Properties, PartialEq)]
pub struct FollowUpProps {
    /// The question.
    pub question: Question,
    /// The mistake, for the learner's record; without it nothing is recorded.
    #[prop_or_default]
    pub finding: Option<Finding>,
    /// Called once, with what the mistake is booked to.
    pub on_book: Callback<Booked>,
}

/// The question, its answers, and what the answer tells.
#[component]
pub fn FollowUp(props: &FollowUpProps) -> Html {
    let answered = use_state_eq(|| None::<usize>);
    let learner = use_learner();
    let question = &props.question;
    let answer = |at: usize| {
        let (answered, on_book, question) = (answered.clone(), props.on_book.clone(), question.clone());
        let (learner, finding) = (learner.clone(), props.finding.clone());
        Callback::from(move |_: MouseEvent| {
            if answered.is_none() {
                let booked = cause::book(&question.about, at == question.right);
                answered.set(Some(at));
                if let Some(mistake) = finding.as_ref().and_then(|finding| mistake(finding, booked)) {
                    learner.answer(mistake);
                }
                on_book.emit(booked);
            }
        })
    };
    html! {
        <fieldset class="follow-up">
            <legend>{ &question.ask }</legend>
            if !question.cells.is_empty() { <CellsLine cells={Rc::<[Cell]>::from(question.cells.as_slice())} /> }
            <div class="answers">
                { for question.answers.iter().enumerate().map(|(at, text)| html! {
                    <button type="button" onclick={answer(at)} disabled={answered.is_some_and(|chosen| chosen != at)}
                        aria-pressed={if *answered == Some(at) { "true" } else { "false" }}>{ text }</button>
                }) }
            </div>
            <p role="status">
                if let Some(at) = *answered {
                    { verdict(question, at) }
                }
            </p>
        </fieldset>
    }
}

/// A mistake in writing for the learner's record, booked to eye, hand or rule.
fn mistake(finding: &Finding, booked: Booked) -> Option<Answer> {
    Some(Answer {
        at: now(),
        sign: register::get(finding.sign?).key.to_owned(),
        direction: Direction::Write,
        right: false,
        ms: 0,
        clues: 0,
        instead: numbers(&finding.cells[..finding.cells.len().min(12)]),
        cause: booked.name().to_owned(),
    })
}

fn verdict(question: &Question, at: usize) -> String {
    let right = at == question.right;
    let booked = cause::book(&question.about, right);
    let first = match right {
        true => "Right.".to_owned(),
        false => format!("It is: {}.", question.answers[question.right].trim_end_matches('.')),
    };
    format!("{first} Booked to the {}. {}", booked.name(), booked.advice())
}
