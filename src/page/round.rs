//! A set round: items one by one, signs or lines, each answered once for the score; at its end a result slip.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::{BrailleInput, Given};
use super::cells_line::{self, CellsLine};
use super::hand_in::HandIn;
use super::held::use_held;
use super::learner::{now, use_learner};
use super::settings::use_settings;
use super::written::Written;
use crate::cell::Cell;
use crate::exercise::{Count, Exercise, Item, Slip, Task};
use crate::practice::drill::{self, Judged};
use crate::practice::record::{Answer, Direction};
use crate::ueb::{self, Options, Sign, register};

/// The exercise.
#[derive(Properties, PartialEq)]
pub struct RoundProps {
    /// The exercise: reading or dot numbers, or signs for any task.
    pub exercise: Rc<Exercise>,
}

/// How one item was answered.
#[derive(Clone, Debug, PartialEq)]
struct Answered {
    asked: String,
    answer: String,
    right: bool,
}

fn direction(task: Task) -> Direction {
    match task {
        Task::Read | Task::Proofread => Direction::Read,
        Task::Write | Task::Transcribe => Direction::Write,
        Task::Slate => Direction::Slate,
        Task::DotNumbers => Direction::SayNumbers,
    }
}

fn plain(text: &str) -> String {
    let text: String = text.to_lowercase().replace(['’', '‘'], "'").replace(['“', '”'], "\"");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Judges an answer about a line of print.
fn judge_line(line: &str, task: Task, contracted: bool, answer: &str) -> Judged {
    let judged = |right: bool, says: String| Judged { right, instead: String::new(), cause: "", says };
    let right = || judged(true, "Right.".to_owned());
    if task != Task::DotNumbers {
        let (asked, said) = (plain(line), plain(answer));
        if asked == said {
            return right();
        }
        let differs =
            asked.split(' ').zip(said.split(' ').chain(std::iter::repeat(""))).position(|(a, b)| a != b);
        return judged(
            false,
            match differs {
                Some(at) => format!("Word {} is another. It says: {line}", at + 1),
                None => format!("There is more in your answer than in the line. It says: {line}"),
            },
        );
    }
    let asked: Vec<Cell> = ueb::transcribe(line, &Options { contracted, ..Options::default() })
        .into_iter()
        .filter(|cell| !cell.is_blank())
        .collect();
    let named: Option<Vec<Cell>> =
        answer.split_whitespace().filter(|word| *word != "blank").map(Cell::from_dot_numbers).collect();
    if named.as_ref() == Some(&asked) {
        right()
    } else {
        judged(false, format!("It is {}.", drill::dots(&asked)))
    }
}

/// Items one by one, and the slip.
#[component]
pub fn Round(props: &RoundProps) -> Html {
    let settings = use_settings();
    let learner = use_learner();
    let set = &props.exercise;
    let list = use_memo(set.clone(), |set| set.list());
    let done = use_held(Vec::<Answered>::default);
    let said = use_held(Option::<Judged>::default);
    let typed = use_held(String::new);
    let written = use_mut_ref(Vec::<Cell>::new);
    let given = use_held(Given::default);
    let helped = use_held(bool::default);
    let clues = use_held(usize::default);
    let since = use_mut_ref(now);
    let began = use_mut_ref(now);
    let seconds = use_held(u32::default);

    if list.is_empty() {
        return html! { <p class="alert" role="alert">{ "There is nothing in this exercise. Ask for it to be made anew." }</p> };
    }
    let at = done.len() - usize::from(said.is_some());
    let Some(item) = list.get(at) else {
        return html! {
            <>
                <p role="status" aria-label="Result">{ format!("{} of {} right at the first answer.", done.iter().filter(|one| one.right).count(), done.len()) }</p>
                <Answers lines={Rc::new(done.iter().map(|one| (one.asked.clone(), one.answer.clone(), one.right)).collect::<Vec<_>>())} />
                <HandIn slip={slip_of(set, &done, *seconds, *helped)} />
            </>
        };
    };
    let sign: Option<&'static Sign> = match item {
        Item::Sign(key) => register::by_key(key),
        Item::Line(_) => None,
    };
    let line = if let Item::Line(line) = item { line.clone() } else { String::new() };
    let task = set.task;
    let by_hand = sign.is_some() && matches!(task, Task::Write | Task::Slate | Task::Transcribe);
    let answer = {
        let (done, said, typed, written, learner, since, began, seconds) = (
            done.clone(),
            said.clone(),
            typed.clone(),
            written.clone(),
            learner.clone(),
            since.clone(),
            began.clone(),
            seconds.clone(),
        );
        let (given, clues, line, contracted) = (given.clone(), clues.clone(), line.clone(), set.contracted);
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if said.is_some() {
                // On to the next.
                said.set(None);
                typed.set(String::new());
                written.borrow_mut().clear();
                given.set(Given { version: given.version + 1, lines: Rc::default() });
                clues.set(0);
                *since.borrow_mut() = now();
                seconds.set((now().saturating_sub(*began.borrow()) / 1000) as u32);
                return;
            }
            let (judged, asked, text) = match sign {
                Some(sign) => {
                    let (judged, text) = match task {
                        Task::Write | Task::Slate | Task::Transcribe => {
                            let cells = written.borrow().clone();
                            (drill::judge_cells(sign, direction(task), &cells), cells_line::numbers(&cells))
                        }
                        Task::DotNumbers => (drill::judge_numbers(sign, &typed), (*typed).clone()),
                        Task::Read | Task::Proofread => {
                            (drill::judge_meaning(sign, &typed), (*typed).clone())
                        }
                    };
                    learner.answer(Answer {
                        at: now(),
                        sign: sign.key.to_owned(),
                        direction: direction(task),
                        right: judged.right,
                        ms: now().saturating_sub(*since.borrow()),
                        clues: u8::try_from(*clues).unwrap_or(u8::MAX),
                        instead: judged.instead.clone(),
                        cause: judged.cause.to_owned(),
                    });
                    (judged, sign.key.to_owned(), text)
                }
                None => (judge_line(&line, task, contracted, &typed), line.clone(), (*typed).clone()),
            };
            let mut all = (*done).clone();
            let right = judged.right && *clues == 0;
            all.push(Answered {
                asked,
                answer: text.split_whitespace().collect::<Vec<_>>().join(" "),
                right,
            });
            done.set(all);
            said.set(Some(judged));
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| {
            typed.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value())
        })
    };
    let on_change = {
        let written = written.clone();
        Callback::from(move |new: Written| {
            *written.borrow_mut() =
                new.cells().into_iter().flatten().filter(|cell| !cell.is_blank()).collect();
        })
    };
    let clue = {
        let (clues, helped) = (clues.clone(), helped.clone());
        Callback::from(move |_: MouseEvent| {
            clues.set(*clues + 1);
            helped.set(true);
        })
    };
    let hints = sign.map(crate::practice::clues::for_sign).unwrap_or_default();
    let clean = |text: &str| cells_line::shown(text, &settings);
    let asked = match (sign, task) {
        (Some(sign), Task::Read | Task::Proofread) => html! {
            <><CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /><span class="note">{ drill::taken_as(sign.class) }</span></>
        },
        (Some(sign), _) => {
            html! { <><strong>{ drill::asked_as(sign) }</strong><span class="note">{ drill::taken_as(sign.class) }</span></> }
        }
        (None, Task::DotNumbers) => html! { <strong>{ clean(&line) }</strong> },
        (None, _) => {
            let cells = ueb::transcribe(&line, &Options { contracted: set.contracted, marks: true });
            html! { <CellsLine cells={Rc::from(cells)} dot={Some(12.0)} /> }
        }
    };
    let label = match task {
        Task::DotNumbers => "Its dot numbers, a space between cells",
        _ => "It says",
    };
    html! {
        <section class="practise" aria-label="Round">
            <p class="where" role="status" aria-label="Item">{ format!("{} of {}", at + 1, list.len()) }</p>
            <form onsubmit={answer}>
                <div id="asked" class="asked" aria-live="polite">{ asked }</div>
                if by_hand {
                    <BrailleInput drill=true reads={false} given={(*given).clone()} {on_change} slate={task == Task::Slate} />
                } else {
                    <label>{ label }{ " " }<input type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} readonly={said.is_some()} /></label>
                }
                <div class="controls">
                    <button class="main" type="submit">{ if said.is_some() { if at + 1 == list.len() { "To the result" } else { "Next" } } else { "Answer" } }</button>
                    if set.help && said.is_none() && *clues < hints.len() { <button class="quiet" type="button" onclick={clue}>{ "A clue" }</button> }
                </div>
            </form>
            <ol class="clues" aria-live="polite">{ for hints.iter().take(*clues).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            <p role="status" aria-label="Judged">{ said.as_ref().map(|judged| clean(&judged.says)).unwrap_or_default() }</p>
        </section>
    }
}

fn slip_of(set: &Exercise, done: &[Answered], seconds: u32, helped: bool) -> Slip {
    let mut findings: Vec<Count> = Vec::new();
    for one in done.iter().filter(|one| !one.right) {
        match findings.iter_mut().find(|count| count.name == one.asked) {
            Some(count) => count.times += 1,
            None => findings
                .push(Count { name: one.asked.chars().take(crate::exercise::TITLE).collect(), times: 1 }),
        }
    }
    findings.sort_by_key(|count| std::cmp::Reverse(count.times));
    findings.truncate(100);
    let line = |one: &Answered| {
        format!("{}\t{}\t{}", one.asked, one.answer, if one.right { "right" } else { "wrong" })
    };
    Slip {
        title: set.title.clone(),
        task: set.task,
        right: done.iter().filter(|one| one.right).count() as u32,
        asked: done.len() as u32,
        seconds,
        helped,
        findings,
        work: done.iter().map(line).collect::<Vec<_>>().join("\n"),
        set: Some(set.clone()),
        ..Slip::default()
    }
}

/// Answers as a slip holds them.
pub fn answers_of(work: &str) -> Vec<(String, String, bool)> {
    work.lines()
        .filter_map(|line| {
            let mut fields = line.split('\t');
            Some((fields.next()?.to_owned(), fields.next()?.to_owned(), fields.next()? == "right"))
        })
        .collect()
}

/// Answers to show.
#[derive(Properties, PartialEq)]
pub struct AnswersProps {
    /// What was asked, what was answered, and whether it is right.
    pub lines: Rc<Vec<(String, String, bool)>>,
}

/// A table of answers.
#[component]
pub fn Answers(props: &AnswersProps) -> Html {
    let settings = use_settings();
    let clean = |text: &str| cells_line::shown(text, &settings);
    html! {
        <table>
            <thead><tr><th scope="col">{ "Asked" }</th><th scope="col">{ "Answer" }</th><th scope="col">{ "" }</th></tr></thead>
            <tbody>{ for props.lines.iter().map(|(asked, answer, right)| html! {
                <tr><td>{ clean(asked) }</td><td>{ clean(answer) }</td><td>{ if *right { "✓ right" } else { "✗ wrong" } }</td></tr>
            }) }</tbody>
        </table>
    }
}
