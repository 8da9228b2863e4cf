//! The native helper's commands, one a file: a thin front over the library.

use std::ffi::OsString;
use std::fmt;
use std::process::ExitCode;

mod bundle;
mod check;
mod explain;
mod lay_out;
mod licences;
mod mark;
mod notation;
mod page_build;
mod page_tools;
mod plant;
mod read;
mod save;
mod serve;
mod sheet;
mod shelf;
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
    /// What was to be checked can't be read.
    Unread(String),
    /// Whoever reads our output has gone; nothing to say, and the work is not done.
    Closed,
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Usage(say) => write!(f, "{say} (cellwright help shows the commands)"),
            Failure::Outside(say) | Failure::Unread(say) => f.write_str(say),
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

  cellwright [serve] [--port N] [--site FOLDER]
                                    build the page for a look (larger and slower than what is published) and serve
                                    it on http://127.0.0.1:8080; with --site, serve what 'build --out' wrote into
                                    FOLDER, as it is
  cellwright build [--out FOLDER | --quick]
                                    build the page into www/pkg; with --out, also copy the site to publish into
                                    FOLDER; --quick builds it as 'serve' does
  cellwright bundle --out FILE [--site ADDRESS]
                                    build the page as one HTML file that runs without a server; ADDRESS is where
                                    the links made in it lead, and can be changed in it
  cellwright stamp FOLDER           write the service worker of a published site anew after changing its files
  cellwright transcribe [--edition 2013|2024] [--uncontracted] [--marks] [--running] [--notation ascii|unicode|dots]
                                    print on standard input, braille on standard output
  cellwright read [--edition 2013|2024] [--uncontracted] [--marks] [--older] [--running]
                  [--notation ascii|unicode|dots]
                                    braille on standard input, print on standard output
  cellwright explain [--edition 2013|2024] [--uncontracted] [--marks]
                                    print on standard input, a JSON object with the reasons for each line
  cellwright lay-out [--edition 2013|2024] [--cells 40] [--lines 25] [--uncontracted] [--no-page-numbers] [--divide]
                     [--strict] [--profile full|plain] [--from-braille [--from-cells 40]]
                                    print in Markdown (or a .brf) on standard input, pages (.brf) on standard output;
                                    --divide divides words at line ends; what can't be set is named on standard
                                    error, and with --strict the status is 1 then; the profile plain shows no print
                                    page numbers
  cellwright check [--edition 2013|2024] [--scope piece|volume] [--print FILE] [--print-copy] [--cells 40]
                   [--lines 25] [--uncontracted] [--profile full|plain] [--without RULE,...]
                                    a .brf on standard input, the hand-in check as JSON; status 1 when anything
                                    is to fix, 2 when something could not be read; --without leaves out rules, by
                                    number or name, that your course does not have
  cellwright check --rules          the rules, one a line: number, name, what it asks for, where it is from
  cellwright mark PRINT_FILE BRAILLE_FILE [--edition 2013|2024] [--uncontracted] [--marks] [--by-line]
  cellwright mark --key BRAILLE_FILE BRAILLE_FILE [--edition 2013|2024] [--uncontracted] [--marks] [--by-line]
                                    what is wrong in the braille, of what kind and by which rule, as a JSON object
  cellwright plant [--kinds KIND,...] [--rate R] [--seed N] [--uncontracted] [--key-out FILE]
                                    correct braille on standard input, the same with mistakes on standard output
  cellwright shelf                  what there is to read and to write: words, texts and lines for each unit, and the first
                                    unit after which each text can be read in full
  cellwright shelf FILE...          whether books for the shelf are what their heads say: each word and sign that comes
                                    too early, by line; status 1 when anything is to mend
  cellwright help, --help           this text; after a command's name, what is said of it
  cellwright --version              the version

Each input line is a text of its own; with --running modes carry on over line ends. Braille is written as Unicode
braille patterns unless another notation is asked for; it is read by what it looks like. In dot numbers, cells stand
apart by spaces and the blank cell is the word \"blank\". A character without a sign is named on standard error with
its place, and the work goes on. A line or a text has at most 10 MB. The status is 0 when all is done, 1 when something
outside failed, 2 when the call could not be understood.
";

/// Runs one command and gives the exit status: 0 for done, 1 for a failure, 2 for a call that can't be understood.
pub fn run(args: impl Iterator<Item = OsString>) -> ExitCode {
    match command(args) {
        Ok(status) => status,
        Err(failure) => {
            // Where nobody hears it the status tells.
            let _ = match &failure {
                Failure::Closed => Ok(()),
                failure => stream::say(&failure.to_string()),
            };
            match failure {
                Failure::Usage(_) | Failure::Unread(_) => ExitCode::from(2),
                Failure::Outside(_) | Failure::Closed => ExitCode::FAILURE,
            }
        }
    }
}

fn command(args: impl Iterator<Item = OsString>) -> Result<ExitCode, Failure> {
    let args: Vec<OsString> = args.collect();
    let named = args.first().is_some_and(|first| !first.to_string_lossy().starts_with('-'));
    let (name, args) = match args.split_first() {
        Some((name, rest)) if named => (name.clone(), rest),
        _ => (OsString::new(), args.as_slice()),
    };
    let asks = |words: [&str; 2]| {
        args.iter().take_while(|arg| *arg != "--").any(|arg| words.iter().any(|word| arg == word))
    };
    if asks(["--help", "-h"]) {
        return stream::print(&help(&name.to_string_lossy())?).map(|()| ExitCode::SUCCESS);
    }
    if name.is_empty() && asks(["--version", "-V"]) {
        let version = concat!("cellwright ", env!("CARGO_PKG_VERSION"), "\n");
        return stream::print(version).map(|()| ExitCode::SUCCESS);
    }
    let rest = lexopt::Parser::from_args(args.iter().cloned());
    let done = match name.to_string_lossy().as_ref() {
        "" | "serve" => serve::run(rest),
        "build" => page_build::run(rest),
        "bundle" => bundle::run(rest),
        "stamp" => site::run(rest),
        "transcribe" => transcribe::run(rest),
        "read" => read::run(rest),
        "explain" => explain::run(rest),
        "lay-out" => return lay_out::run(rest),
        "check" => return check::run(rest),
        "mark" => mark::run(rest),
        "plant" => plant::run(rest),
        "shelf" => return shelf::run(rest),
        "help" => stream::print(HELP),
        other => Err(no_command(other)),
    };
    done.map(|()| ExitCode::SUCCESS)
}

fn no_command(name: &str) -> Failure {
    Failure::Usage(format!("there is no command '{name}'"))
}

/// What is said of a command; of all of them when none is named.
fn help(command: &str) -> Result<String, Failure> {
    if command.is_empty() || command == "help" {
        return Ok(HELP.to_owned());
    }
    let mut said = String::new();
    let mut of_it = false;
    for line in HELP.lines().take_while(|line| !line.starts_with("Each ")) {
        if let Some(words) = line.strip_prefix("  cellwright ") {
            let name = words.split([' ', ',']).next().unwrap_or_default();
            of_it = name.trim_matches(['[', ']']) == command;
        }
        if of_it && !line.is_empty() {
            said.push_str(line);
            said.push('\n');
        }
    }
    if said.is_empty() { Err(no_command(command)) } else { Ok(said) }
}
