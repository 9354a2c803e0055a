//! The command line: the window, or one job without a window.

use std::ffi::OsString;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use cornerwise_export::along_csv::{self, AlongError};
use cornerwise_export::files;
use cornerwise_export::picture::picture_of;
use cornerwise_export::pictures;
use cornerwise_export::report;
use cornerwise_geometry::Camera;
use cornerwise_project::{Design, PageSize, Project, StripLayout};

use crate::view::{START_TILT_DEG, START_TURN_DEG};
use crate::{print, start, window};

mod args;

use args::{Args, GraphsArgs, Job, PaperArgs, PictureArgs, ReportArgs, Usage};

/// All went well.
pub const DONE: u8 = 0;
/// The project or a file is not sound.
pub const BAD_FILE: u8 = 1;
/// The command was not understood, or there is no display for the window.
pub const BAD_USE: u8 = 2;

/// How to make the paper where there is no window.
const WITHOUT_WINDOW: &str = "cornerwise paper FILE --size a4 --out FILE.pdf";

/// Why a job was not done.
enum Failure {
    Usage(String),
    File(String),
    NoWindow(String),
    /// What was written to went away, as `head` does: nothing is wrong.
    NobodyReads,
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        match error.kind() {
            ErrorKind::BrokenPipe => Failure::NobodyReads,
            _ => Failure::File(format!("the answer cannot be written: {error}")),
        }
    }
}

/// Does what the arguments say (without the program's own name). The answer is the exit code: 0 done, 1 the project or a
/// file is not sound, 2 the command was not understood or there is no display.
pub fn run(args: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let done = match Args::read(args) {
        Ok(args) => job(args, out),
        Err(Usage(words)) => Err(Failure::Usage(words)),
    };
    let (code, words) = match done {
        Ok(()) | Err(Failure::NobodyReads) => return DONE,
        Err(Failure::Usage(words)) => (BAD_USE, format!("{words}\nTry `cornerwise --help`.")),
        Err(Failure::File(words)) => (BAD_FILE, words),
        Err(Failure::NoWindow(words)) => (BAD_USE, words),
    };
    // Where even the error stream is gone, the exit code still tells.
    let _ = writeln!(err, "cornerwise: {words}");
    code
}

fn job(args: Args, out: &mut dyn Write) -> Result<(), Failure> {
    match args.job {
        Job::Help => writeln!(out, "{}", args::help()).map_err(Failure::from),
        Job::Version => writeln!(out, "cornerwise {}", env!("CARGO_PKG_VERSION")).map_err(Failure::from),
        Job::Window(file) => open_window(file),
        Job::Paper(job) => paper(&job, out),
        Job::Report(job) => report(&job, out),
        Job::Picture(job) => leg_picture(&job, out),
        Job::Plan(file) => plan(&file, out),
        Job::Graphs(job) => graphs(&job, out),
    }
}

/// A project from a file, or the built-in demo of that name where there is no such file.
fn project(file: &Path) -> Result<(Project, Option<PathBuf>), Failure> {
    if !file.exists()
        && let Some(demo) = file.to_str().and_then(start::demo_named)
    {
        return Ok((demo, None));
    }
    let project = files::load(file).map_err(|error| Failure::File(error.to_string()))?;
    Ok((project, Some(file.to_owned())))
}

/// The same with the photos of its blanks developed. One that cannot be had is told instead of being left out: what is made
/// without a window is not looked at by anybody.
fn developed(file: &Path) -> Result<(Project, Option<PathBuf>), Failure> {
    let (project, saved_as) = project(file)?;
    let (project, errors) = pictures::with_photos(project, &|_, _| true);
    if errors.is_empty() {
        return Ok((project, saved_as));
    }
    let each: Vec<String> = errors.iter().map(ToString::to_string).collect();
    Err(Failure::File(format!("{}: {}", file.display(), each.join("; "))))
}

fn open_window(file: Option<PathBuf>) -> Result<(), Failure> {
    let (project, file, said) = match file.map(|file| project(&file)) {
        Some(Ok((project, file))) => (project, file, None),
        // Who opened it by a double click sees no command line: what is wrong is said in the window.
        Some(Err(Failure::File(words))) if window::has_display() => (Project::new(), None, Some(words)),
        Some(Err(failure)) => return Err(failure),
        None => (start::demo(0).unwrap_or_default(), None, None),
    };
    window::open(project, file, said).map_err(|error| {
        Failure::NoWindow(format!(
            "{error}, so the studio cannot open; to make the paper without a window: {WITHOUT_WINDOW}"
        ))
    })
}

/// A design by its letter or its name.
fn design<'a>(project: &'a Project, wanted: &str) -> Result<&'a Design, Failure> {
    let found = project
        .designs
        .iter()
        .find(|design| design.name == wanted || design.letter.to_string().eq_ignore_ascii_case(wanted));
    found.map(AsRef::as_ref).ok_or_else(|| {
        let all: Vec<String> =
            project.designs.iter().map(|design| format!("{} ({})", design.letter, design.name)).collect();
        Failure::Usage(format!("there is no leg called {wanted}: this project has {}", all.join(", ")))
    })
}

/// The design that was asked for, or the first.
fn one_design<'a>(project: &'a Project, wanted: Option<&str>) -> Result<&'a Design, Failure> {
    match wanted {
        Some(wanted) => design(project, wanted),
        None => {
            let first = project.designs.first().map(AsRef::as_ref);
            first.ok_or_else(|| Failure::File("the project is empty".to_owned()))
        }
    }
}

fn graphs(job: &GraphsArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let (project, file) = developed(&job.file)?;
    let design = one_design(&project, job.design.as_deref())?;
    let wrong = |error: AlongError| match error {
        AlongError::Places(_) => Failure::Usage(error.to_string()),
        AlongError::Leg { .. } => Failure::File(error.to_string()),
    };
    let places = job.stations.unwrap_or(along_csv::USUAL_PLACES);
    let table = along_csv::along_csv(&project, design, places).map_err(wrong)?;
    match &job.out {
        Some(path) => {
            print::write(path, table.as_bytes(), file.as_deref()).map_err(Failure::File)?;
            writeln!(out, "Graphs saved: {}", path.display())?;
        }
        None => out.write_all(table.as_bytes())?,
    }
    Ok(())
}

fn paper(job: &PaperArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let (mut project, file) = developed(&job.file)?;
    if let Some(size) = &job.size {
        project.paper.page = size.clone();
    }
    if let Some(layout) = job.layout {
        project.paper.layout = layout;
    }
    if job.on_its_side {
        project.paper.landscape = true;
    }
    if let Some(also) = &job.also {
        project.paper.also.clone_from(also);
    }
    let bytes = match &job.design {
        Some(wanted) => print::pdf_of(&project, design(&project, wanted)?),
        None => print::pdf(&project),
    };
    print::write(&job.out, &bytes.map_err(Failure::File)?, file.as_deref()).map_err(Failure::File)?;
    writeln!(out, "Paper saved, to be printed at 100 %: {}", job.out.display())?;
    Ok(())
}

fn report(job: &ReportArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let (project, _) = developed(&job.file)?;
    let stations = job.stations.unwrap_or(report::USUAL_STATIONS);
    let wrong = |error: report::ReportError| match error {
        report::ReportError::Stations { .. } => Failure::Usage(error.to_string()),
        other => Failure::File(other.to_string()),
    };
    let report = report::report(&project, stations).map_err(wrong)?;
    let text = if job.json {
        report::json(&report).map_err(|error| Failure::File(error.to_string()))?
    } else {
        report::text(&project, &report)
    };
    out.write_all(text.as_bytes())?;
    if !text.ends_with('\n') {
        writeln!(out)?;
    }
    Ok(())
}

fn plan(file: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let (project, _) = developed(file)?;
    let text = cornerwise_export::plan::plan(&project).map_err(|error| Failure::File(error.to_string()))?;
    out.write_all(text.as_bytes())?;
    Ok(())
}

fn leg_picture(job: &PictureArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let (project, file) = developed(&job.file)?;
    let design = one_design(&project, job.design.as_deref())?;
    let leg = design.leg().map_err(|error| Failure::File(format!("{}: {error}", design.name)))?;
    let camera = Camera::new(START_TURN_DEG, START_TILT_DEG);
    let png = picture_of(&leg, &design.figure(), &camera, 1.0, job.size)
        .map_err(|error| Failure::Usage(error.to_string()))?;
    print::write(&job.out, &png, file.as_deref()).map_err(Failure::File)?;
    writeln!(out, "Picture saved: {}", job.out.display())?;
    Ok(())
}
