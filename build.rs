//! Links OpenBLAS when the feature `lapack` is on, or says which package is missing.
//!
//! Without this the build would run to its end and then stop with a page of linker
//! errors. The check asks the linker itself; where it cannot be asked, the build
//! goes on and the linker has the last word.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};

/// A folder that holds OpenBLAS where the linker does not look by itself.
const DIR_VARIABLE: &str = "OPENBLAS_LIB_DIR";

fn main() -> ExitCode {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-env-changed={DIR_VARIABLE}");
    // A failed script is run again at the next build, so that an installed package is seen.
    if env::var_os("CARGO_FEATURE_LAPACK").is_none() || env::var_os("DOCS_RS").is_some() {
        return ExitCode::SUCCESS;
    }
    let dirs = library_dirs();
    if found_by_linker(&dirs) == Some(false) && !found_in_folders(&dirs) {
        for line in message() {
            eprintln!("{line}");
        }
        return ExitCode::FAILURE;
    }
    for dir in &dirs {
        println!("cargo:rustc-link-search=native={}", dir.display());
    }
    println!("cargo:rustc-link-lib=dylib=openblas");
    ExitCode::SUCCESS
}

/// Folders to search besides the linker's own.
fn library_dirs() -> Vec<PathBuf> {
    let mut dirs: Vec<PathBuf> = env::var_os(DIR_VARIABLE).map(PathBuf::from).into_iter().collect();
    if target_os() == "macos" {
        dirs.extend(brew_dir());
    }
    dirs
}

/// Homebrew keeps OpenBLAS out of the linker's sight.
fn brew_dir() -> Option<PathBuf> {
    let out = Command::new("brew").args(["--prefix", "openblas"]).output().ok()?;
    let prefix = String::from_utf8(out.stdout).ok()?;
    let dir = Path::new(prefix.trim()).join("lib");
    (out.status.success() && dir.is_dir()).then_some(dir)
}

/// Whether a program with `-lopenblas` links; none when no linker could be asked.
fn found_by_linker(dirs: &[PathBuf]) -> Option<bool> {
    // When building for another machine the host's `cc` knows nothing of its libraries.
    if target_os() == "windows" || env::var("HOST").ok() != env::var("TARGET").ok() {
        return None;
    }
    let out = PathBuf::from(env::var_os("OUT_DIR")?);
    let source = out.join("asks.c");
    fs::write(&source, "int main(void) { return 0; }\n").ok()?;
    let link = |arguments: &[String]| {
        let mut cc = Command::new("cc");
        cc.arg(&source).arg("-o").arg(out.join("asks")).args(arguments);
        cc.stdout(Stdio::null()).stderr(Stdio::null()).status().ok()
    };
    // A `cc` that cannot link anything says nothing about OpenBLAS.
    if !link(&[])?.success() {
        return None;
    }
    let mut arguments: Vec<String> =
        dirs.iter().map(|dir| format!("-L{}", dir.display())).collect();
    arguments.push("-lopenblas".to_string());
    Some(link(&arguments)?.success())
}

/// Whether a file of OpenBLAS lies in a folder that the user named.
fn found_in_folders(dirs: &[PathBuf]) -> bool {
    let names = ["libopenblas.so", "libopenblas.a", "libopenblas.dylib"];
    dirs.iter().any(|dir| names.iter().any(|name| dir.join(name).exists()))
}

fn target_os() -> String {
    env::var("CARGO_CFG_TARGET_OS").unwrap_or_default()
}

fn message() -> [&'static str; 7] {
    [
        "OpenBLAS was not found: `cc` cannot link with -lopenblas. Install it and build again:",
        "  Debian, Ubuntu   apt-get install -y gcc libc6-dev libopenblas-dev",
        "  Fedora           dnf install gcc openblas-devel",
        "  Arch             pacman -S gcc openblas",
        "  macOS            brew install openblas",
        "  kept elsewhere   set OPENBLAS_LIB_DIR to the folder that holds it",
        "or build without it: cargo build --release --no-default-features --features png",
    ]
}
