//! `stillair man`: one manual page, from the definition of the arguments.

use std::io;

use clap_mangen::Man;

use super::error::CliError;
use super::output;

/// Writes the page.
pub fn run(definition: clap::Command) -> Result<(), CliError> {
    output::print_raw(&page(definition).map_err(CliError::Stdout)?)
}

/// The program's own sections, then one for each command.
fn page(mut root: clap::Command) -> io::Result<Vec<u8>> {
    root.build();
    let man = Man::new(root.clone());
    let mut out = Vec::new();
    man.render_title(&mut out)?;
    man.render_name_section(&mut out)?;
    man.render_synopsis_section(&mut out)?;
    man.render_description_section(&mut out)?;
    man.render_options_section(&mut out)?;
    for command in root.get_subcommands().filter(|command| command.get_name() != "help") {
        let nested: Vec<_> =
            command.get_subcommands().filter(|inner| inner.get_name() != "help").collect();
        if nested.is_empty() {
            command_sections(command, &mut out)?;
        }
        for inner in nested {
            command_sections(inner, &mut out)?;
        }
    }
    man.render_extra_section(&mut out)?;
    man.render_version_section(&mut out)?;
    Ok(out)
}

/// A command's synopsis, description and options, one level below the page's sections.
fn command_sections(command: &clap::Command, out: &mut Vec<u8>) -> io::Result<()> {
    let name = command.get_bin_name().unwrap_or_else(|| command.get_name());
    out.extend(format!(".SH \"{}\"\n", name.to_uppercase()).bytes());
    let man = Man::new(command.clone());
    let mut inner = Vec::new();
    man.render_synopsis_section(&mut inner)?;
    man.render_description_section(&mut inner)?;
    man.render_options_section(&mut inner)?;
    let inner = String::from_utf8_lossy(&inner);
    out.extend(inner.lines().flat_map(|line| {
        let line = line.strip_prefix(".SH ").map_or(line.to_string(), |rest| format!(".SS {rest}"));
        (line + "\n").into_bytes()
    }));
    Ok(())
}
