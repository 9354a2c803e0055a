//! The studio's program.

fn main() -> std::process::ExitCode {
    cornerwise_studio::cli::run(std::env::args_os().skip(1), &mut std::io::stdout(), &mut std::io::stderr()).into()
}
