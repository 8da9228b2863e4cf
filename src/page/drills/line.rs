//! Words and sentences, to read and to write.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::drills::one_box::{self, OneBox};
use crate::page::drills::props::{DrillProps, no_words};
use crate::page::drills::read_line::ReadLine;
use crate::page::learner::settings::use_settings;
use crate::page::marked::follow_up::AskAfter;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::{Given, Written};
use crate::page::widgets::cells_line::{self, CellsLine};
use crate::page::widgets::fields::use_focus;
use crate::practice::record::{Direction, Event};
use crate::practice::{drill, lines};
use crate::ueb::{self, Options};

/// What the drill needs.
#[derive(Properties, PartialEq)]
pub struct LineDrillProps {
    /// What every drill is given.
    pub drill: DrillProps,
    /// Single words, or sentences.
    pub words: bool,
    /// To write, or to read.
    pub write: bool,
    /// To read as the back of a sheet.
    #[prop_or_default]
    pub back: bool,
}

fn draw(props: &LineDrillProps, chance: &mut fastrand::Rng) -> Option<String> {
    let drill = &props.drill;
    let only = &drill.only;
    let supply = drill.supply.as_ref()?;
    let direction = if props.write { Direction::Write } else { Direction::Read };
    let memories = &drill.learner.memories;
    let due: Vec<&str> = memories
        .due(now())
        .into_iter()
        .filter(|(_, of)| *of == direction)
        .map(|(key, _)| key.as_str())
        .filter(|_| only.is_empty())
        .chain(only.iter().copied())
        .collect();
    if props.words {
        supply.word(drill.unit, drill.contracted, &due, chance).map(str::to_owned)
    } else {
        supply.sentence(drill.unit, drill.contracted, &due, chance)
    }
}

/// The drill.
#[component]
pub fn LineDrill(props: &LineDrillProps) -> Html {
    let settings = use_settings();
    let (numbers_only, use_one_box) = (settings.dot_numbers_only, settings.one_box);
    let (props_write, props_back) = (props.write, props.back);
    let since = use_mut_ref(now);
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let line = use_held(|| draw(props, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let said = use_held(String::new);
    {
        // The words may arrive after the drill was opened.
        let line = line.clone();
        let here = props.drill.supply.is_some();
        let new = if line.is_none() { draw(props, &mut chance.borrow_mut()) } else { None };
        use_effect_with(here, move |_| {
            if new.is_some() {
                line.set(new);
            }
        });
    }
    let on_next = {
        let (line, turn, said, chance) = (line.clone(), turn.clone(), said.clone(), chance.clone());
        let props = LineDrillProps {
            drill: props.drill.clone(),
            words: props.words,
            write: props.write,
            back: props.back,
        };
        Callback::from(move |(right, says): (Option<bool>, String)| {
            // Another line asked for is no miss.
            if let Some(right) = right {
                props.drill.on_answer.emit(right);
            }
            said.set(says);
            line.set(draw(&props, &mut chance.borrow_mut()));
            turn.set(*turn + 1);
        })
    };
    let Some(print) = (*line).clone() else { return no_words() };
    let options = Options { contracted: props.drill.contracted, marks: false, ..Options::default() };
    let cells: Rc<[Cell]> = ueb::transcribe(&print, &options).into();
    if use_one_box {
        let asked = if props.write {
            format!("{print}: write")
        } else {
            let drawn = if props.back { crate::keys::slate_order(&cells) } else { cells.to_vec() };
            format!("{} says?", cells_line::as_text(&drawn, numbers_only))
        };
        let on_answer = {
            let (props, since) = (props.drill.clone(), since.clone());
            let (write, back) = (props_write, props_back);
            Callback::from(move |answer: String| {
                let (judged, direction) = if write {
                    let written = [one_box::cells_of(&answer)];
                    (lines::judge_written(&print, props.contracted, &written), Direction::Write)
                } else {
                    let direction = if back { Direction::Back } else { Direction::Read };
                    (lines::judge_read(&print, &cells, props.contracted, &answer), direction)
                };
                let ms = now().saturating_sub(since.replace(now()));
                let answers = lines::answers(&judged, direction, now(), ms, 0);
                props.learner.add_all(&answers.into_iter().map(Event::Answer).collect::<Vec<_>>());
                let slip = judged.slips.first().map(|slip| slip.say.clone()).unwrap_or_default();
                let says =
                    if judged.right { format!("Right: {print}") } else { format!("It was: {print}. {slip}") };
                on_next.emit((Some(judged.right), says.clone()));
                says
            })
        };
        return html! { <div class="drill"><OneBox {asked} {on_answer} /></div> };
    }
    html! {
        <div class="drill">
            if props.write {
                <div aria-live="polite" data-copy=""><p id="asked" class="copy">{ print.clone() }</p></div>
                <WriteLine key={*turn} print={print} drill={props.drill.clone()} {on_next} />
            } else {
                <ReadLine key={*turn} cells={cells} print={print} contracted={props.drill.contracted} back={props.back} focus=true
                    learner={props.drill.learner.clone()} {on_next} />
            }
            <p role="status" class="before">{ (*said).clone() }</p>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct WriteLineProps {
    print: AttrValue,
    drill: DrillProps,
    on_next: Callback<(Option<bool>, String)>,
}

/// One line to write: Enter marks it.
#[component]
fn WriteLine(props: &WriteLineProps) -> Html {
    let written = use_mut_ref(Vec::<Vec<Cell>>::new);
    let since = use_mut_ref(now);
    // How it came out, and when that was recorded.
    let marked = use_held(Option::<(lines::Judged, u64)>::default);
    let mark = {
        let (written, since, marked) = (written.clone(), since.clone(), marked.clone());
        let (print, drill, on_next) = (props.print.clone(), props.drill.clone(), props.on_next.clone());
        move || {
            if marked.is_some() {
                return;
            }
            let judged = lines::judge_written(&print, drill.contracted, &written.borrow());
            let at = now();
            let answers =
                lines::answers(&judged, Direction::Write, at, at.saturating_sub(*since.borrow()), 0);
            drill.learner.add_all(&answers.into_iter().map(Event::Answer).collect::<Vec<_>>());
            if judged.right {
                on_next.emit((Some(true), format!("Right: {print}")));
            } else {
                marked.set(Some((judged, at)));
            }
        }
    };
    let on_change = {
        let (written, mark) = (written.clone(), mark.clone());
        Callback::from(move |new: Written| {
            let lines = new.cells();
            let ended = lines.len() > 1 && !lines[0].is_empty();
            *written.borrow_mut() = lines;
            if ended {
                mark();
            }
        })
    };
    let click = {
        let (mark, marked, on_next, print) =
            (mark.clone(), marked.clone(), props.on_next.clone(), props.print.clone());
        Callback::from(move |_: MouseEvent| {
            if marked.is_some() { on_next.emit((Some(false), format!("It was: {print}"))) } else { mark() }
        })
    };
    let next = use_focus(u32::from(marked.is_some()));
    let asked = ueb::transcribe(
        &props.print,
        &Options { contracted: props.drill.contracted, marks: false, ..Options::default() },
    );
    let meant = {
        let cells: Rc<[Cell]> = asked.as_slice().into();
        use_callback(cells, |(), cells| cells.clone())
    };
    html! {
        <>
            <BrailleInput reads={false} autofocus=true asks="asked" {meant} given={Given::default()} contracted={Some(props.drill.contracted)} {on_change} />
            <div class={classes!(marked.is_some().then_some("wrong"))} role="status">
                if let Some((judged, _)) = &*marked {
                    <ul>{ for judged.slips.iter().map(|slip| html! { <li>{ &slip.say }</li> }) }</ul>
                    <p>{ "It is written: " }<CellsLine cells={Rc::from(asked.as_slice())} dot={Some(7.0)} says={drill::dots(&asked)} /></p>
                }
            </div>
            if let Some((judged, at)) = &*marked {
                <button type="button" ref={next} class="main" onclick={click}>{ "Next" }</button>{ " " }
                <AskAfter about={judged.slips.iter().find_map(|slip| slip.ask)} at={*at} />
            } else {
                <button type="button" class="main" onclick={click}>{ "Mark it (Enter)" }</button>
            }
        </>
    }
}
