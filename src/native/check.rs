//! `cellwright check`: a braille file on standard input, the hand-in check as JSON on standard output.

use std::process::ExitCode;

use cellwright::manuscript::Sheet;
use cellwright::manuscript::check::{Asked, Item, Outcome, Scope, check};
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::rules::{self, RULES};

use super::sheet::{profile, within_bounds};
use super::{Failure, stream};

#[derive(serde::Serialize)]
struct Report {
    items: Vec<Item>,
}

/// Runs the command; the exit status is 1 when anything is to fix.
pub fn run(mut args: lexopt::Parser) -> Result<ExitCode, Failure> {
    use lexopt::prelude::*;
    let mut scope = Scope::Piece;
    let mut sheet = Sheet::default();
    let mut print = None;
    let mut print_copy = false;
    let mut off: Vec<String> = Vec::new();
    while let Some(arg) = args.next()? {
        match arg {
            Long("scope") => {
                scope = match args.value()?.string()?.as_str() {
                    "piece" => Scope::Piece,
                    "volume" => Scope::Volume,
                    other => {
                        return Err(Failure::Usage(format!("there is no scope '{other}': piece or volume")));
                    }
                }
            }
            Long("print") => print = Some(args.value()?),
            Long("cells") => sheet.cells = args.value()?.parse()?,
            Long("lines") => sheet.lines = args.value()?.parse()?,
            Long("uncontracted") => sheet.contracted = false,
            Long("edition") => sheet.edition = stream::edition(&args.value()?.string()?)?,
            Long("print-copy") => print_copy = true,
            Long("rules") => {
                for rule in &RULES {
                    let rules::Rule { number, key, says, source } = rule;
                    stream::print(&format!("{number}\t{key}\t{says}\t{source}\n"))?;
                }
                return Ok(ExitCode::SUCCESS);
            }
            Long("profile") => sheet.profile = profile(&args.value()?)?,
            Long("without") => {
                for key in args.value()?.string()?.split(',').map(str::trim).filter(|key| !key.is_empty()) {
                    if rules::by_name(key).is_none() {
                        let keys: Vec<String> =
                            RULES.iter().map(|rule| format!("{} {}", rule.number, rule.key)).collect();
                        let say = format!("there is no rule '{key}': {}", keys.join(", "));
                        return Err(Failure::Usage(say));
                    }
                    off.push(key.to_owned());
                }
            }
            _ => return Err(arg.unexpected().into()),
        }
    }
    let sheet = within_bounds(sheet)?;
    // Status 1 is for work that is to be mended: what can't be read is another matter.
    let unread = |failure| match failure {
        Failure::Outside(say) => Failure::Unread(say),
        other => other,
    };
    let print = print.map(|path| stream::file(&path)).transpose().map_err(unread)?;
    let braille = BrailleFile::from_text(&stream::whole().map_err(unread)?);
    let items = check(&braille, &Asked { scope, sheet, print: print.as_deref(), print_copy, off: &off });
    let to_fix = items.iter().any(|item| item.result == Outcome::ToFix);
    stream::print_json(&Report { items })?;
    Ok(if to_fix { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}
