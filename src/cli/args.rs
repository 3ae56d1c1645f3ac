//! What can be written on the command line.

use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Checks home-made landing-gear legs and their brace wires before the first landing does.
///
/// An estimate for unmanned aircraft and test pieces. It does not replace inspection, local rules or a licensed
/// engineer.
#[derive(Debug, Parser)]
#[command(name = "gearleg", version, max_term_width = 100, after_help = EXIT_CODES)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
    /// Folder with material tables of your own, added to the built-in ones
    #[arg(long, global = true, value_name = "FOLDER")]
    pub(super) tables: Option<PathBuf>,
}

const EXIT_CODES: &str = "Exit codes: 0 all margins hold; 1 at least one fails or can't be told; 2 the input or the \
                          command line is wrong; 3 internal failure.";

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a commented starter project file
    New(New),
    /// Margins for every landing case
    Check(Check),
    /// Smallest stock sizes that hold: the lightest designs, and what each metal on sale would take
    ///
    /// Looks through what the file leaves open: "?" for what is sold, { from = "3 mm", to = "6 mm" } for a range, a list for a list of
    /// your own; in a file that leaves nothing open, its thickness and whether its wires are needed. Exit code 0: a design holds in
    /// every landing. 1: none does.
    Size(Size),
    /// Designs side by side: mass, stiffness, g, stress, wires, mount, what gives first
    ///
    /// Two to eight designs: project files, or one file with variants in it under [variant.NAME]. The first is what the others are held
    /// against. Exit code 0: every margin of every design holds.
    Compare(Compare),
    /// What a gear does in a drop: g, spread, what stays bent; and a drop test for the shop
    ///
    /// The landing's wheel loads are raised until something gives, and the energy of a fall is looked up on the curve that
    /// comes out. Exit code 0: every gear takes up the drops asked for (--heights or --sink-rates; without them the landing
    /// of the file as a drop) and nothing stays bent, stretched or broken. 1: something does, or the metal is unknown.
    Drop(Drop),
    /// What bench tests say about an unknown metal: its yield strength, its likely grade, what to try next
    ///
    /// Reads the [[bench_test]] sections of a project file, or of a file that has nothing else. Exit code 0: the tests agree. 1: some
    /// contradict each other, or one fits no metal.
    Grade(Grade),
    /// Show the material tables with their sources
    Tables(Tables),
}

/// Where the answer goes and in which form.
#[derive(Debug, Args)]
pub(super) struct Output {
    /// Text for people or JSON for programs
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
    /// Write to a file, whole or not at all, instead of standard output (`-`)
    #[arg(long, value_name = "PATH")]
    pub(super) out: Option<PathBuf>,
    /// Let --out replace a file that exists
    #[arg(long, requires = "out")]
    pub(super) force: bool,
}

/// Form of the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people.
    Text,
    /// For programs: SI numbers, the unit in the key's name.
    Json,
}

#[derive(Debug, Args)]
pub(super) struct New {
    /// File to write (`-` for standard output); an existing one is never replaced [default: gear.toml]
    #[arg(conflicts_with = "out")]
    pub(super) file: Option<PathBuf>,
    #[command(flatten)]
    pub(super) output: Output,
}

/// Samples of --spread. chosen: a chance of one in ten is then known to about ±1 %, and the work stays below half a minute.
const SAMPLES: u32 = 2000;

#[derive(Debug, Args)]
pub(super) struct Check {
    /// Project file (`-` for standard input)
    pub(super) file: PathBuf,
    /// Show the sum behind every margin: formula, numbers, source
    #[arg(long)]
    pub(super) explain: bool,
    /// Show every landing of every part, not the worst one only
    #[arg(long)]
    pub(super) every_case: bool,
    /// Try the bolts that are sold for a gear with give_first = "bolts": which give first and still hold the landing
    #[arg(long)]
    pub(super) size_first: bool,
    /// How sure the margins are: likely ranges, chances, what to measure next
    ///
    /// Every value is drawn as it may be off, by the tolerances in the file ("4 mm +- 0.1 mm") and by what is usual, and all of it
    /// checked anew. The exit code stays that of the file as it is written.
    #[arg(long)]
    pub(super) spread: bool,
    /// How many samples --spread draws
    #[arg(long, value_name = "N", requires = "spread", default_value_t = SAMPLES, value_parser = clap::value_parser!(u32).range(200..=1_000_000))]
    pub(super) samples: u32,
    /// What --spread draws from: the same seed, the same samples
    #[arg(long, value_name = "N", requires = "spread", default_value_t = 1)]
    pub(super) seed: u64,
    /// Let only the file's own tolerances count in --spread
    ///
    /// No usual tolerances, no scatter of materials, the hardest landing of a pilot's word.
    #[arg(long, requires = "spread")]
    pub(super) only_written: bool,
    #[command(flatten)]
    pub(super) output: Output,
}

#[derive(Debug, Args)]
pub(super) struct Size {
    /// Project file (`-` for standard input)
    pub(super) file: PathBuf,
    /// Leave out the merchant's card: what each metal on sale would take
    #[arg(long)]
    pub(super) no_card: bool,
    #[command(flatten)]
    pub(super) output: Output,
}

#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Project files; each counts with its variants (`-` for standard input)
    #[arg(required = true, value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) output: Output,
}

#[derive(Debug, Args)]
pub(super) struct Drop {
    /// Project file (`-` for standard input)
    pub(super) file: PathBuf,
    /// Only the curve of this landing: a case id, or the name of a case of your own
    #[arg(long, value_name = "ID")]
    pub(super) case: Option<String>,
    /// Points of the curves: what the wheel loads are multiplied by, such as 0.25,0.5,1,1.5
    #[arg(long, value_name = "LIST")]
    pub(super) multiples: Option<String>,
    /// Multiples from which the gear is unloaded to see what stays bent, such as 1.1,1.3
    #[arg(long, value_name = "LIST")]
    pub(super) unload_from: Option<String>,
    /// Heights to drop from, such as "50 mm,100 mm"
    #[arg(long, value_name = "LIST", conflicts_with = "sink_rates")]
    pub(super) heights: Option<String>,
    /// The same as speeds at touch-down, such as "0.8 m/s,1.6 m/s"
    #[arg(long, value_name = "LIST")]
    pub(super) sink_rates: Option<String>,
    #[command(flatten)]
    pub(super) output: Output,
}

#[derive(Debug, Args)]
pub(super) struct Grade {
    /// Project file, or one with bench tests only (`-` for standard input)
    pub(super) file: PathBuf,
    #[command(flatten)]
    pub(super) output: Output,
}

#[derive(Debug, Args)]
pub(super) struct Tables {
    /// Which table; without it the list of tables
    #[arg(value_parser = PossibleValuesParser::new(gearleg::material::Kind::ALL.map(gearleg::material::Kind::word)))]
    pub(super) kind: Option<String>,
    #[command(flatten)]
    pub(super) output: Output,
}
