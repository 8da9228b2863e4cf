//! Eye, hand or rule: one short question after a mistake, and what the mistake is booked to.
//!
//! Marked work asks inside its findings ([`crate::page::marked::findings`]); lines of practice by `<AskAfter ..>`.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Finding;
use crate::marking::cause::{self, Booked, Question};
use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::learner::journal::use_learner;
use crate::page::widgets::cells_line::{CellsLine, numbers};
use crate::page::widgets::fields::use_focus;
use crate::practice::clauses;
use crate::practice::record::{Answer, Direction, Event};
use crate::ueb::register;

/// How the mistake stands in the learner's record.
#[derive(Clone, Debug, PartialEq)]
pub enum Mistake {
    /// Not yet: it is recorded with its cause.
    New(Box<Finding>),
    /// It was recorded at this time, in milliseconds since 1970: its cause is told.
    Kept(u64),
}

/// A question after a mistake.
#[derive(Properties, PartialEq)]
pub struct FollowUpProps {
    /// The question.
    pub question: Question,
    /// The mistake, for the learner's record.
    pub mistake: Mistake,
    /// Called once, with what the mistake is booked to.
    #[prop_or_default]
    pub on_book: Callback<Booked>,
}

/// The question, its answers, and what the answer tells.
#[component]
pub fn FollowUp(props: &FollowUpProps) -> Html {
    let answered = use_held(Option::<usize>::default);
    let learner = use_learner();
    let question = &props.question;
    let answer = |at: usize| {
        let (answered, on_book, question) = (answered.clone(), props.on_book.clone(), question.clone());
        let (learner, mistake) = (learner.clone(), props.mistake.clone());
        Callback::from(move |_: MouseEvent| {
            if answered.is_none() {
                let booked = cause::book(&question.about, at == question.right);
                answered.set(Some(at));
                match &mistake {
                    Mistake::New(finding) => {
                        learner.add_all(&slip(finding, booked).map_or(vec![], |slip| vec![slip]))
                    }
                    Mistake::Kept(at) => learner.add(Event::Cause {
                        of: *at,
                        sign: question.about.sign().key.to_owned(),
                        cause: match question.about {
                            cause::FollowUp::Rule(_, section) => clauses::cause(booked.name(), section),
                            _ => booked.name().to_owned(),
                        },
                    }),
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
fn slip(finding: &Finding, booked: Booked) -> Option<Event> {
    Some(Event::Answer(Answer {
        at: now(),
        sign: register::get(finding.sign?).key.to_owned(),
        direction: Direction::Write,
        right: false,
        ms: 0,
        clues: 0,
        instead: numbers(&finding.cells[..finding.cells.len().min(12)]),
        cause: clauses::cause(booked.name(), finding.section),
    }))
}

/// What may be asked after a mistake in a line of practice.
#[derive(Properties, PartialEq)]
pub struct AskAfterProps {
    /// What is asked; with nothing, nothing is shown.
    pub about: Option<cause::FollowUp>,
    /// When the mistake was recorded, in milliseconds since 1970.
    pub at: u64,
}

/// The question after a mistake, once it is asked for.
#[component]
pub fn AskAfter(props: &AskAfterProps) -> Html {
    // The mistake that it was asked for: another one brings the button back.
    let asked = use_held(Option::<u64>::default);
    let Some(question) = props.about.and_then(cause::question) else { return Html::default() };
    let open = {
        let (asked, at) = (asked.clone(), props.at);
        Callback::from(move |_: MouseEvent| asked.set(Some(at).filter(|at| *asked != Some(*at))))
    };
    let is_open = *asked == Some(props.at);
    html! {
        <>
            <button type="button" class="quiet" aria-expanded={if is_open { "true" } else { "false" }} onclick={open}>{ "Eye, hand or rule?" }</button>
            if is_open { <FollowUp key={props.at} {question} mistake={Mistake::Kept(props.at)} /> }
        </>
    }
}

/// A mistake that is asked about before it is told what it was.
#[derive(Properties, PartialEq)]
pub struct AskFirstProps {
    /// What is asked.
    pub about: cause::FollowUp,
    /// When the mistake was recorded, in milliseconds since 1970.
    pub at: u64,
    /// Called when it was answered, or when there is nothing to ask.
    pub on_done: Callback<()>,
}

/// The question, at once.
#[component]
pub fn AskFirst(props: &AskFirstProps) -> Html {
    let question = use_memo(props.about, |about| cause::question(*about));
    let here = question.is_some();
    let node = use_focus(0);
    {
        let on_done = props.on_done.clone();
        use_effect_with(here, move |here| {
            if !here {
                on_done.emit(());
            }
        });
    }
    let Some(question) = (*question).clone() else { return Html::default() };
    let on_book = props.on_done.reform(|_: Booked| ());
    html! { <div ref={node} tabindex="-1"><FollowUp {question} mistake={Mistake::Kept(props.at)} {on_book} /></div> }
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
