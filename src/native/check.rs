//! `cellwright check`: a braille file on standard input, the hand-in check as JSON on standard output.

use std::io::Read as _;
use std::process::ExitCode;

use cellwright::manuscript::Sheet;
use cellwright::manuscript::check::{Asked, Item, Outcome, Scope, check};
use cellwright::manuscript::file::{self, BrailleFile};

use super::Failure;
use super::stream;

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
            Long("print-copy") => print_copy = true,
            _ => return Err(arg.unexpected().into()),
        }
    }
    let print = match print {
        Some(path) => {
            let name = path.to_string_lossy().into_owned();
            let bytes = std::fs::read(&path).map_err(|error| Failure::Outside(format!("{name}: {error}")))?;
            Some(file::text(&bytes).map_err(|error| Failure::Outside(format!("{name}: {error}")))?)
        }
        None => None,
    };
    let mut bytes = Vec::new();
    std::io::stdin().lock().take(file::LIMIT as u64 + 1).read_to_end(&mut bytes)?;
    let braille = BrailleFile::open(&bytes).map_err(|error| Failure::Outside(error.to_string()))?;
    let items =
        check(&braille, &Asked { scope, sheet: sheet.bounded(), print: print.as_deref(), print_copy });
    let to_fix = items.iter().any(|item| item.result == Outcome::ToFix);
    let json =
        serde_json::to_string(&Report { items }).map_err(|error| Failure::Outside(error.to_string()))?;
    stream::print(&(json + "\n"))?;
    Ok(if to_fix { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}
