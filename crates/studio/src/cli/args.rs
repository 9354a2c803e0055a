//! The arguments, understood.

use std::ffi::OsString;
use std::path::PathBuf;

use cornerwise_geometry::Arris;
use cornerwise_project::PaperExtra;
use lexopt::prelude::*;

use super::{PageSize, StripLayout};

/// What is to be done.
pub struct Args {
    pub job: Job,
}

/// A job.
pub enum Job {
    Help,
    Version,
    Window(Option<PathBuf>),
    Paper(PaperArgs),
    Report(ReportArgs),
    Picture(PictureArgs),
    Plan(PathBuf),
    Graphs(GraphsArgs),
}

/// For `paper`.
pub struct PaperArgs {
    pub file: PathBuf,
    pub out: PathBuf,
    pub size: Option<PageSize>,
    pub layout: Option<StripLayout>,
    pub on_its_side: bool,
    pub also: Option<Vec<PaperExtra>>,
    pub design: Option<String>,
}

/// For `report`.
pub struct ReportArgs {
    pub file: PathBuf,
    pub stations: Option<usize>,
    pub json: bool,
}

/// For `graphs`.
pub struct GraphsArgs {
    pub file: PathBuf,
    pub out: Option<PathBuf>,
    pub design: Option<String>,
    pub stations: Option<usize>,
}

/// For `picture`.
pub struct PictureArgs {
    pub file: PathBuf,
    pub out: PathBuf,
    pub design: Option<String>,
    pub size: [u32; 2],
}

/// What was not understood.
pub struct Usage(pub String);

impl From<lexopt::Error> for Usage {
    fn from(error: lexopt::Error) -> Usage {
        use lexopt::Error;
        Usage(match error {
            Error::MissingValue { option: Some(option) } => format!("{option} needs something after it"),
            Error::MissingValue { option: None } => "something is missing at the end".to_owned(),
            Error::UnexpectedOption(option) => format!("there is no {option} here"),
            Error::UnexpectedArgument(word) => format!("{} is one word too many", word.display()),
            Error::UnexpectedValue { option, value } => {
                format!("{option} stands alone: nothing follows it, not {}", value.display())
            }
            Error::ParsingFailed { value, .. } => format!("{value} is not a whole number"),
            Error::NonUnicodeValue(value) => format!("{} cannot be read as text", value.display()),
            Error::Custom(error) => error.to_string(),
        })
    }
}

/// The usual picture, pixels.
const USUAL_PICTURE: [u32; 2] = [600, 1600];

impl Args {
    /// Understands the arguments, without the program's own name.
    pub fn read(args: impl IntoIterator<Item = OsString>) -> Result<Args, Usage> {
        let mut parser = lexopt::Parser::from_args(args);
        let mut file = None;
        while let Some(arg) = parser.next()? {
            match arg {
                Short('h') | Long("help") => return Ok(Args { job: Job::Help }),
                Short('V') | Long("version") => return Ok(Args { job: Job::Version }),
                Value(word) if file.is_none() => match word.to_str() {
                    Some("paper") => return read_job(parser, Command::Paper),
                    Some("report") => return read_job(parser, Command::Report),
                    Some("picture") => return read_job(parser, Command::Picture),
                    Some("plan") => return read_job(parser, Command::Plan),
                    Some("graphs") => return read_job(parser, Command::Graphs),
                    _ => file = Some(PathBuf::from(word)),
                },
                other => return Err(other.unexpected().into()),
            }
        }
        Ok(Args { job: Job::Window(file) })
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Command {
    Paper,
    Report,
    Picture,
    Plan,
    Graphs,
}

#[derive(Default)]
struct Found {
    file: Option<PathBuf>,
    out: Option<PathBuf>,
    size: Option<String>,
    layout: Option<StripLayout>,
    on_its_side: bool,
    also: Option<Vec<PaperExtra>>,
    design: Option<String>,
    stations: Option<usize>,
    json: bool,
}

fn read_job(mut parser: lexopt::Parser, command: Command) -> Result<Args, Usage> {
    let mut found = Found::default();
    while let Some(arg) = parser.next()? {
        match (arg, command) {
            (Short('h') | Long("help"), _) => return Ok(Args { job: Job::Help }),
            (Long("out") | Short('o'), Command::Paper | Command::Picture | Command::Graphs) => {
                found.out = Some(PathBuf::from(parser.value()?));
            }
            (Long("size"), Command::Paper | Command::Picture) => found.size = Some(parser.value()?.string()?),
            (Long("layout"), Command::Paper) => found.layout = Some(layout(&parser.value()?.string()?)?),
            (Long("also"), Command::Paper) => found.also = Some(extras(&parser.value()?.string()?)?),
            (Long("on-its-side"), Command::Paper) => found.on_its_side = true,
            (Long("design"), Command::Paper | Command::Picture | Command::Graphs) => {
                found.design = Some(parser.value()?.string()?);
            }
            (Long("stations"), Command::Report | Command::Graphs) => found.stations = Some(parser.value()?.parse()?),
            (Long("json"), Command::Report) => found.json = true,
            (Value(word), _) if found.file.is_none() => found.file = Some(PathBuf::from(word)),
            (other, _) => return Err(other.unexpected().into()),
        }
    }
    let file =
        found.file.ok_or_else(|| Usage("which project? Name its FILE, or one of the built-in demos".to_owned()))?;
    let out = || found.out.clone().ok_or_else(|| Usage("where to? Add --out and a file name".to_owned()));
    let job = match command {
        Command::Paper => Job::Paper(PaperArgs {
            out: out()?,
            file,
            size: found.size.as_deref().map(page_size).transpose()?,
            layout: found.layout,
            on_its_side: found.on_its_side,
            also: found.also,
            design: found.design,
        }),
        Command::Plan => Job::Plan(file),
        Command::Graphs => {
            Job::Graphs(GraphsArgs { file, out: found.out, design: found.design, stations: found.stations })
        }
        Command::Report => Job::Report(ReportArgs { file, stations: found.stations, json: found.json }),
        Command::Picture => Job::Picture(PictureArgs {
            out: out()?,
            file,
            design: found.design,
            size: found.size.as_deref().map_or(Ok(USUAL_PICTURE), picture_size)?,
        }),
    };
    Ok(Args { job })
}

fn page_size(text: &str) -> Result<PageSize, Usage> {
    match text.to_lowercase().as_str() {
        "a4" => Ok(PageSize::A4),
        "a3" => Ok(PageSize::A3),
        "letter" => Ok(PageSize::Letter),
        "tabloid" => Ok(PageSize::Tabloid),
        other => {
            let width: Option<f64> = other.strip_prefix("roll:").and_then(|mm| mm.parse().ok());
            match width.filter(|mm| mm.is_finite()) {
                Some(mm) => Ok(PageSize::Roll { width: mm.into() }),
                None => Err(Usage(format!(
                    "there is no page size {text}: a4, a3, letter, tabloid, or roll:610 (its width in mm)"
                ))),
            }
        }
    }
}

fn layout(text: &str) -> Result<StripLayout, Usage> {
    match text.to_lowercase().as_str() {
        "strip" => Ok(StripLayout::Wrapped),
        "faces" => Ok(StripLayout::PerFace { face_1_by: Arris::Two, face_2_by: Arris::Two }),
        _ => Err(Usage(format!(
            "there is no layout {text}: strip (one strip, folded at arris 2) or faces (a strip for each face)"
        ))),
    }
}

fn extras(text: &str) -> Result<Vec<PaperExtra>, Usage> {
    let words = text.split(',').map(str::trim).filter(|word| !word.is_empty());
    words
        .map(|word| match word.to_lowercase().as_str() {
            "cauls" => Ok(PaperExtra::Cauls),
            "master" => Ok(PaperExtra::Master),
            "gauge" => Ok(PaperExtra::Gauge),
            "plan" => Ok(PaperExtra::Plan),
            _ => Err(Usage(format!("there is no paper named {word}: cauls, master, gauge, plan"))),
        })
        .collect()
}

fn picture_size(text: &str) -> Result<[u32; 2], Usage> {
    let side = |side: &str| side.trim().parse().ok();
    text.split_once('x')
        .and_then(|(across, up)| Some([side(across)?, side(up)?]))
        .ok_or_else(|| Usage(format!("{text} is no size of a picture: write 600x1600, pixels across and up")))
}

/// The help.
pub fn help() -> String {
    // A few to a line, so that a shell does not break them.
    let demos: Vec<String> = crate::start::demo_names().chunks(5).map(|names| names.join(", ")).collect();
    let demos = demos.join(",\n    ");
    format!(
        "\
Cornerwise designs furniture legs, posts and lamp bases that are made of one square
blank by two saw cuts, and prints the paper that goes on the blank at true size.

cornerwise [FILE]
    Opens the studio on a project file, or on a built-in demo.

cornerwise paper FILE --out FILE.pdf
    Makes the paper without a window. Print it at 100 %.
    --size SIZE       a4, a3, letter, tabloid, or roll:610 (a roll, its width in mm);
                      else the size that the project says
    --layout LAYOUT   strip (one strip, folded at arris 2) or faces (a strip for each face)
    --on-its-side     pages on their long edge
    --also PAPERS     beside strip and caps: cauls, master, gauge, plan (any of them, with
                      commas); else those that the project says
    --design LEG      one leg only, by its letter or its name

cornerwise report FILE
    Says what was measured: sections, thickness, angles, bends, seams.
    --stations N      at how many places along each leg, both ends among them
    --json            for programs; lengths in mm, angles in degrees

cornerwise picture FILE --out FILE.png
    Draws the finished leg, upright.
    --size 600x1600   pixels across and up
    --design LEG      which leg, by its letter or its name

cornerwise plan FILE
    Says what to mill, what to crosscut, how it stands, and in what order to glue.

cornerwise graphs FILE
    Writes what is known along a leg as a table (CSV): thickness, edge angle, slope of
    grain, bends, steps at the seams and more, as drawn and as sawn.
    --out FILE.csv    to a file; else to the screen
    --design LEG      which leg, by its letter or its name; else the first
    --stations N      at how many places, both ends among them

cornerwise --help, cornerwise --version

FILE may also be the name of a built-in demo:
    {demos}

Exit codes: 0 done, 1 the project or a file is not sound, 2 the command was not understood
or there is no display for the window."
    )
}
