//! `cellwright plant`: mistakes on purpose in correct braille, with their key.

use std::path::PathBuf;

use cellwright::cell;
use cellwright::marking::Kind;
use cellwright::marking::plant::plant;
use serde_json::json;

use super::Failure;
use super::read::all_cells;
use super::{save, stream};

/// Runs the command.
pub fn run(mut args: lexopt::Parser) -> Result<(), Failure> {
    use lexopt::prelude::*;
    let mut kinds = Vec::new();
    let (mut rate, mut seed, mut contracted) = (0.02, 1u64, true);
    let mut key_out = None;
    while let Some(arg) = args.next()? {
        match arg {
            Long("kinds") => {
                for name in args.value()?.to_string_lossy().split(',').filter(|name| !name.is_empty()) {
                    let kind = Kind::named(name.trim())
                        .ok_or_else(|| Failure::Usage(format!("there is no kind of mistake '{name}'")))?;
                    kinds.push(kind);
                }
                if kinds.is_empty() {
                    return Err(Failure::Usage("--kinds needs the name of a kind of mistake".into()));
                }
            }
            Long("rate") => rate = args.value()?.parse::<f64>()?,
            Long("seed") => seed = args.value()?.parse()?,
            Long("uncontracted") => contracted = false,
            Long("key-out") => key_out = Some(PathBuf::from(args.value()?)),
            _ => return Err(arg.unexpected().into()),
        }
    }
    if !(0.0..=1.0).contains(&rate) {
        return Err(Failure::Usage("--rate is mistakes a cell, from 0 to 1".into()));
    }
    let (changed, planted) = plant(&all_cells(&stream::whole()?)?, &kinds, rate, seed, contracted);
    if let Some(file) = key_out {
        let key: Vec<_> = planted
            .iter()
            .map(|one| {
                json!({
                    "kind": one.kind.name(),
                    "written": {"line": one.line + 1, "from": one.from, "to": one.to},
                    "expected": cell::to_unicode(&one.expected),
                })
            })
            .collect();
        save::file(&file, format!("{}\n", json!(key)).as_bytes())?;
    }
    let out: String = changed.iter().map(|line| format!("{}\n", cell::to_unicode(line))).collect();
    stream::print(&out)
}
