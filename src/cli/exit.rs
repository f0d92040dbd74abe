//! How a command ends.

use std::io;
use std::process::ExitCode;

use crate::job::ReadError;
use crate::plan::{OutputFault, PlanFault};

/// The exit codes that the program promises.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub(super) enum Exit {
    /// Everything was done.
    Done = 0,
    /// The job is wrong.
    JobWrong = 1,
    /// The command line is wrong.
    CommandWrong = 2,
    /// There is no valid lay, or some piece has no place.
    NoValidLay = 3,
    /// Somebody interrupted it.
    Interrupted = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit as u8)
    }
}

/// Why a command ends before it is done.
#[derive(Debug)]
pub(super) enum Stop {
    /// Something is wrong.
    Fault {
        /// Whose fault it is.
        exit: Exit,
        /// What is wrong and what would be right.
        message: String,
    },
    /// Whoever read the results has seen enough.
    ClosedPipe,
}

impl Stop {
    /// A fault with its message.
    pub fn fault(exit: Exit, message: impl ToString) -> Self {
        Self::Fault { exit, message: message.to_string() }
    }
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::ClosedPipe,
            _ => Self::fault(Exit::CommandWrong, format!("the results cannot be printed: {error}")),
        }
    }
}

impl From<ReadError> for Stop {
    fn from(error: ReadError) -> Self {
        match error {
            ReadError::Missing { .. } | ReadError::Folder { .. } | ReadError::Io { .. } => {
                Self::fault(Exit::CommandWrong, error)
            }
            ReadError::TooLarge { .. } | ReadError::NotUtf8 { .. } => Self::fault(Exit::JobWrong, error),
            ReadError::Faults(faults) => {
                let count = faults.count();
                let things = if count == 1 { "1 thing is" } else { &format!("{count} things are") };
                let message = format!("{things} wrong with {}\n\n{faults}", faults.name);
                Self::fault(Exit::JobWrong, message.trim_end())
            }
        }
    }
}

impl From<PlanFault> for Stop {
    fn from(fault: PlanFault) -> Self {
        Self::fault(Exit::JobWrong, fault)
    }
}

impl From<OutputFault> for Stop {
    fn from(fault: OutputFault) -> Self {
        Self::fault(Exit::CommandWrong, fault)
    }
}
