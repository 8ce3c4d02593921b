//! The program as a user meets it: its words, files and exit status.

mod anchored;
mod apart;
mod book;
mod book_far;
mod explain;
mod files;
mod first_hour;
mod good;
mod lesson;
mod lots;
mod measured;
mod new;
mod odds;
mod one_answer;
mod one_line;
mod program;
mod quilt;
mod quilt_beside;
mod quilted_everywhere;
mod readme;
mod refused;
mod told;
mod verify;
mod workbooks;
