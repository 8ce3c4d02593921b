//! Whether quilting is left out, as every command takes it.

use crate::study::answer::Quilts;

/// Whether quilting is left out.
#[derive(Debug, clap::Args)]
pub struct FlatArg {
    /// Leave quilting out: expose the flat stack, without loft and stitch lines
    #[arg(long)]
    flat: bool,
}

impl FlatArg {
    /// Whether quilting is computed.
    pub fn quilts(&self) -> Quilts {
        if self.flat { Quilts::LeftOut } else { Quilts::Computed }
    }
}
