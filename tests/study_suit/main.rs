//! Suits and reports: masses against hand sums, savings against brute force, pages against a parser.

mod bad;
mod body;
mod demo;
mod mass;
mod page;
mod program;
mod quilted;
mod saving;
