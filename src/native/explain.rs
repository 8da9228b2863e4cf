//! `cellwright explain`: print to braille with the reason for each sign, as JSON lines.

use cellwright::cell;
use cellwright::ueb::{self, Options, register};
use serde_json::{Value, json};

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
            _ => return Err(arg.unexpected().into()),
        }
    }
    stream::each_line(|_, line| explain(line, &options).to_string())
}

fn explain(line: &str, options: &Options) -> Value {
    let explained = ueb::explain(line, options);
    let signs: Vec<Value> = explained
        .signs
        .iter()
        .map(|used| {
            let sign = register::get(used.sign);
            json!({
                "print": [used.print.start, used.print.end],
                "cells": [used.cells.start, used.cells.end],
                "name": sign.name,
                "class": sign.class.name(),
                "section": used.section,
            })
        })
        .collect();
    let passed_over: Vec<Value> = explained
        .passed_over
        .iter()
        .map(|passed| {
            json!({
                "letters": register::get(passed.sign).print,
                "print": [passed.print.start, passed.print.end],
                "section": passed.section,
                "why": passed.why,
            })
        })
        .collect();
    let unhandled: Vec<Value> = explained
        .unhandled
        .iter()
        .map(|unhandled| json!({"at": unhandled.at, "character": unhandled.character.to_string()}))
        .collect();
    let choices: Vec<Value> = explained
        .choices
        .iter()
        .map(|choice| {
            let others: Vec<String> = choice.others.iter().map(|cells| cell::to_unicode(cells)).collect();
            json!({
                "print": [choice.print.start, choice.print.end],
                "cells": [choice.cells.start, choice.cells.end],
                "section": choice.section,
                "why": choice.why,
                "others": others,
            })
        })
        .collect();
    json!({
        "print": line,
        "cells": cell::to_unicode(&explained.cells),
        "signs": signs,
        "passed_over": passed_over,
        "choices": choices,
        "unhandled": unhandled,
    })
}
