//! What is asked of one sign: its cells, its dots or its meaning, with the question; or all of it in few cells;
//! and what an answer comes to.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::slate_order;
use crate::page::drills::one_box;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::{self, CellsLine, in_words};
use crate::practice::drill;
use crate::practice::record::Direction;
use crate::ueb::register::{self, Sign};

/// The cells of a sign as they are shown: from the back of a sheet they are mirrored.
fn drawn(sign: &Sign, direction: Direction) -> Vec<Cell> {
    if direction == Direction::Back { slate_order(&sign.cells) } else { sign.cells.clone() }
}

fn asks(direction: Direction) -> &'static str {
    match direction {
        Direction::Read => "What does it mean?",
        Direction::Back => "The back of a sheet. What does it mean?",
        Direction::Numbers => "Which sign has these dots?",
        Direction::Write => "Write it.",
        Direction::NumbersCell => "Write these dots.",
        Direction::SayNumbers | Direction::CellNumbers => "What are its dot numbers?",
        Direction::Slate => "Punch it from the back.",
        Direction::Rule => "",
    }
}

/// The question in few cells, for one text box.
pub fn asked_shortly(sign: &Sign, direction: Direction, numbers_only: bool) -> String {
    let cells = cells_line::as_text(&drawn(sign, direction), numbers_only);
    match direction {
        Direction::Read => format!("{cells} means?"),
        Direction::Back => format!("{cells} from the back means?"),
        Direction::Numbers => format!("{} mean?", drill::dots(&sign.cells)),
        Direction::Write => format!("{}: write", drill::asked_as(sign)),
        Direction::NumbersCell => format!("{}: write", drill::dots(&sign.cells)),
        Direction::SayNumbers => format!("{}: dots?", drill::asked_as(sign)),
        Direction::CellNumbers => format!("{cells} dots?"),
        Direction::Slate => format!("{}: punch, as it reads", drill::asked_as(sign)),
        Direction::Rule => String::new(),
    }
}

/// What an answer comes to: a meaning, dot numbers or cells, as the direction asks.
pub fn judge(sign: &'static Sign, direction: Direction, answer: &str) -> drill::Judged {
    match direction {
        Direction::Write | Direction::NumbersCell | Direction::Slate => {
            drill::judge_cells(sign, direction, &one_box::cells_of(answer))
        }
        Direction::SayNumbers | Direction::CellNumbers => drill::judge_numbers(sign, answer),
        _ => drill::judge_meaning(sign, answer),
    }
}

/// The sign that is asked.
#[derive(Properties, PartialEq)]
pub struct AskedSignProps {
    /// Its key.
    pub sign: &'static str,
    /// From what to what.
    pub direction: Direction,
    /// Which item it is: the same sign may be asked again.
    pub turn: u32,
}

/// The question. It is told when it becomes another: the focus may have stayed in the field.
#[component]
pub fn AskedSign(props: &AskedSignProps) -> Html {
    let numbers_only = use_settings().dot_numbers_only;
    let AskedSignProps { sign, direction, turn } = *props;
    let Some(sign) = register::by_key(sign) else { return html! {} };
    let shows_cells = matches!(direction, Direction::Read | Direction::Back | Direction::CellNumbers);
    let cells = drawn(sign, direction);
    let says = in_words(&cells, numbers_only, direction != Direction::CellNumbers);
    html! {
        <div aria-live="polite" data-copy="">
            <div id="asked" class="asked" key={turn}>
                <p class="asks">{ asks(direction) }</p>
                if shows_cells {
                    <CellsLine cells={Rc::from(cells.as_slice())} dot={Some(18.0)} says={says} />
                } else if matches!(direction, Direction::Numbers | Direction::NumbersCell) {
                    <strong class="large">{ drill::dots(&sign.cells) }</strong>
                } else {
                    <strong class="large">{ drill::asked_as(sign) }</strong>
                }
                if (shows_cells || direction == Direction::Numbers) && direction != Direction::CellNumbers {
                    <span class="note">{ drill::taken_as(sign.class) }</span>
                }
            </div>
        </div>
    }
}
