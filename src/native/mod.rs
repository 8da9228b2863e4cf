//! The native helper's commands, one a file: a thin front over the library.

use std::ffi::OsString;
use std::fmt;
use std::process::ExitCode;

mod bundle;
mod check;
mod explain;
mod lay_out;
mod mark;
mod page_build;
mod plant;
mod read;
mod serve;
mod site;
mod stream;
mod transcribe;

/// Why a command stopped, in one line that says what to do.
#[derive(Debug)]
pub enum Failure {
    /// The words of the call are off.
    Usage(String),
    /// Something outside the program is missing or refused.
    Outside(String),
    /// Whoever reads our output has gone; nothing to say.
    Closed,
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Usage(say) => write!(f, "{say} (cellwright help shows the commands)"),
            Failure::Outside(say) => f.write_str(say),
            Failure::Closed => Ok(()),
        }
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        match error.kind() {
            std::io::ErrorKind::BrokenPipe => Failure::Closed,
            _ => Failure::Outside(error.to_string()),
        }
    }
}

impl From<lexopt::Error> for Failure {
    fn from(error: lexopt::Error) -> Self {
        Failure::Usage(error.to_string())
    }
}

const HELP: &str = "\
cellwright: read and write Unified English Braille

  cellwright [serve] [--port N]     build the page and serve it on http://127.0.0.1:8080
  cellwright build [--out FOLDER]   build the page into www/pkg; with --out, also copy the site to publish into FOLDER
  cellwright bundle --out FILE [--site ADDRESS]
                                    build the page as one HTML file that runs without a server; ADDRESS is where
                                    the links made in it lead, and can be changed in it
  cellwright stamp FOLDER           write the service worker of a published site anew after changing its files
  cellwright transcribe [--uncontracted] [--marks] [--running] [--notation ascii|unicode|dots]
                                    print on standard input, braille on standard output
  cellwright read [--uncontracted] [--marks] [--older] [--running] [--notation ascii|unicode|dots]
                                    braille on standard input, print on standard output
  cellwright explain [--uncontracted] [--marks]
                                    print on standard input, a JSON object with the reasons for each line
  cellwright lay-out [--cells 40] [--lines 25] [--uncontracted] [--no-page-numbers] [--divide]
                     [--from-braille [--from-cells 40]]
                                    print with CommonMark marks (or a .brf) on standard input, pages (.brf) on
                                    standard output; --divide divides words at line ends
  cellwright check [--scope piece|volume] [--print FILE] [--print-copy] [--cells 40] [--lines 25] [--uncontracted]
                                    a .brf on standard input, the hand-in check as JSON; status 1 when anything
                                    is to fix
  cellwright mark PRINT_FILE BRAILLE_FILE [--uncontracted] [--by-line]
  cellwright mark --key BRAILLE_FILE BRAILLE_FILE [--uncontracted] [--by-line]
                                    what is wrong in the braille, of what kind and by which rule, as a JSON object
  cellwright plant [--kinds KIND,...] [--rate R] [--seed N] [--uncontracted] [--key-out FILE]
                                    correct braille on standard input, the same with mistakes on standard output
  cellwright help                   this text

Each input line is a text of its own; with --running modes carry on over line ends. Braille is written as Unicode
braille patterns unless another notation is asked for; it is read by what it looks like. In dot numbers, cells stand
apart by spaces and the blank cell is the word \"blank\". A character without a sign is named on standard error with
its place, and the work goes on.
";

/// Runs one command and gives the exit status: 0 for done, 1 for a failure, 2 for a call that can't be understood.
pub fn run(args: impl Iterator<Item = OsString>) -> ExitCode {
    match command(args) {
        Ok(status) => status,
        Err(Failure::Closed) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("cellwright: {failure}");
            match failure {
                Failure::Usage(_) => ExitCode::from(2),
                _ => ExitCode::FAILURE,
            }
        }
    }
}

fn command(args: impl Iterator<Item = OsString>) -> Result<ExitCode, Failure> {
    let mut args = args.peekable();
    if args.peek().is_some_and(|first| first == "--help" || first == "-h") {
        return stream::print(HELP).map(|()| ExitCode::SUCCESS);
    }
    let named = args.peek().is_some_and(|first| !first.to_string_lossy().starts_with('-'));
    let name = if named { args.next().unwrap_or_default() } else { OsString::new() };
    let rest = lexopt::Parser::from_args(args);
    let done = match name.to_string_lossy().as_ref() {
        "" | "serve" => serve::run(rest),
        "build" => page_build::run(rest),
        "bundle" => bundle::run(rest),
        "stamp" => site::run(rest),
        "transcribe" => transcribe::run(rest),
        "read" => read::run(rest),
        "explain" => explain::run(rest),
        "lay-out" => lay_out::run(rest),
        "check" => return check::run(rest),
        "mark" => mark::run(rest),
        "plant" => plant::run(rest),
        "help" => stream::print(HELP),
        other => Err(Failure::Usage(format!("there is no command '{other}'"))),
    };
    done.map(|()| ExitCode::SUCCESS)
}
