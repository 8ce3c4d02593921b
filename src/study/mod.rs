//! Many exposures put to one question, and the linear algebra that such questions need.

#[cfg(feature = "lapack")]
pub mod lapack;
pub mod property;
pub mod sensitivity;
pub mod worth;
