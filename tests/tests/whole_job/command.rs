//! The command line as a maker or a script uses it.

use std::ffi::OsString;

use cornerwise_studio::cli;

/// What a command answered.
pub struct Answer {
    pub code: u8,
    pub out: String,
    pub err: String,
}

/// Runs a command with these arguments.
pub fn cornerwise<A: Into<OsString>>(args: impl IntoIterator<Item = A>) -> Answer {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = cli::run(args.into_iter().map(Into::into), &mut out, &mut err);
    let [out, err] = [out, err].map(|bytes| String::from_utf8(bytes).expect("UTF-8"));
    Answer { code, out, err }
}

/// Runs a command that must go well, and gives what it said.
pub fn done<A: Into<OsString>>(args: impl IntoIterator<Item = A>) -> String {
    let answer = cornerwise(args);
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{}", answer.out);
    answer.out
}
