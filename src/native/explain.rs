//! `cellwright explain`: print to braille with the reason for each sign, as JSON lines.

use cellwright::cell;
use cellwright::ueb::{self, Choice, Options, PassedOver, SignUse, Unhandled, register};
use serde::{Serialize, Serializer};

use super::Failure;
use super::stream;

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut options = Options::default();
    while let Some(arg) = args.next()? {
        match arg {
            Long("uncontracted") => options.contracted = false,
            Long("marks") => options.marks = true,
            Long("edition") => options.edition = stream::edition(&args.value()?.string()?)?,
            _ => return Err(arg.unexpected().into()),
        }
    }
    stream::each_line(|_, line, out| {
        let explained = ueb::explain(line, &options);
        stream::json(
            out,
            &Line {
                print: line,
                cells: cell::to_unicode(&explained.cells),
                signs: Each(&explained.signs, sign),
                passed_over: Each(&explained.passed_over, passed_over),
                choices: Each(&explained.choices, choice),
                unhandled: Each(&explained.unhandled, unhandled),
            },
        )
    })
}

/// A line as it is told.
#[derive(Serialize)]
struct Line<'a> {
    print: &'a str,
    cells: String,
    signs: Each<'a, SignUse, Sign>,
    passed_over: Each<'a, PassedOver, Passed>,
    choices: Each<'a, Choice, Chosen>,
    unhandled: Each<'a, Unhandled, Missing>,
}

/// A list that is told one after the other, so that no second one stands in memory.
struct Each<'a, T, Told>(&'a [T], fn(&T) -> Told);

impl<T, Told: Serialize> Serialize for Each<'_, T, Told> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.0.iter().map(self.1))
    }
}

#[derive(Serialize)]
struct Sign {
    print: [usize; 2],
    cells: [usize; 2],
    name: &'static str,
    class: &'static str,
    section: &'static str,
}

fn sign(used: &SignUse) -> Sign {
    let sign = register::get(used.sign);
    Sign {
        print: [used.print.start, used.print.end],
        cells: [used.cells.start, used.cells.end],
        name: sign.name,
        class: sign.class.name(),
        section: used.section,
    }
}

#[derive(Serialize)]
struct Passed {
    letters: &'static str,
    print: [usize; 2],
    section: &'static str,
    why: &'static str,
}

fn passed_over(passed: &PassedOver) -> Passed {
    Passed {
        letters: register::get(passed.sign).print,
        print: [passed.print.start, passed.print.end],
        section: passed.section,
        why: passed.why,
    }
}

#[derive(Serialize)]
struct Chosen {
    print: [usize; 2],
    cells: [usize; 2],
    section: &'static str,
    why: &'static str,
    others: Vec<String>,
}

fn choice(choice: &Choice) -> Chosen {
    Chosen {
        print: [choice.print.start, choice.print.end],
        cells: [choice.cells.start, choice.cells.end],
        section: choice.section,
        why: choice.why,
        others: choice.others.iter().map(|cells| cell::to_unicode(cells)).collect(),
    }
}

#[derive(Serialize)]
struct Missing {
    at: usize,
    character: char,
}

fn unhandled(unhandled: &Unhandled) -> Missing {
    Missing { at: unhandled.at, character: unhandled.character }
}
