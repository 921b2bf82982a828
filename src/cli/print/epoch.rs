//! The moment a file says it was made, where the environment gives one.

use std::env;

use crate::cli::Refusal;
use crate::paint::pdf::Made;

const VARIABLE: &str = "SOURCE_DATE_EPOCH";

/// The moment SOURCE_DATE_EPOCH names, in seconds from the beginning of 1970
/// (reproducible-builds.org, specification of 2017).
pub(in crate::cli) fn from_environment() -> Result<Option<Made>, Refusal> {
    let Some(value) = env::var_os(VARIABLE) else { return Ok(None) };
    let seconds = value.to_str().and_then(|text| text.parse().ok());
    match seconds.and_then(Made::at_epoch) {
        Some(made) => Ok(Some(made)),
        None => Err(Refusal::Epoch(value.to_string_lossy().into_owned())),
    }
}
