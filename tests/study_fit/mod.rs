//! Properties fitted to the bench's readings, against what is known outside.

mod curves;
mod fixtures;
mod linear;
mod nist;
mod possible;
mod program;
mod recover;
mod twins;
