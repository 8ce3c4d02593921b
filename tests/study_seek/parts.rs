//! Claim: a search in parts, joined in any order, is the search at once; parts that do not belong
//! together are told.

use std::fs;
use std::path::Path;

use crate::study_seek::fixtures::{COARSE, SPARSE, done, folder, refused};

fn part(toml: &str, folder: &Path, k: u32, n: u32) -> String {
    let file = folder.join(format!("part-{k}-of-{n}")).to_str().unwrap().to_owned();
    done(&["seek", toml, "--part", &format!("{k}/{n}"), "--checkpoint", &file, "--error", COARSE]);
    file
}

#[test]
fn parts_joined_are_the_whole() {
    let folder = folder("joined");
    let toml = folder.join("brief.toml");
    fs::write(&toml, SPARSE).unwrap();
    let toml = toml.to_str().unwrap();
    let files = [2, 3, 1].map(|k| part(toml, &folder, k, 3));
    let merge = |more: &[&str]| {
        let files: Vec<&str> = files.iter().map(String::as_str).collect();
        done(&[&["merge"], &files[..], more].concat())
    };
    assert_eq!(merge(&["--json"]), done(&["seek", toml, "--json", "--error", COARSE]));
    assert_eq!(merge(&[]), done(&["seek", toml, "--error", COARSE]));
    // more parts than chunks: some have nothing to do
    let single = folder.join("whole").to_str().unwrap().to_owned();
    done(&["seek", toml, "--checkpoint", &single, "--error", COARSE]);
    assert_eq!(done(&["merge", &single, "--json"]), merge(&["--json"]));
}

#[test]
fn what_does_not_belong_together_is_told() {
    let folder = folder("apart");
    let toml = folder.join("brief.toml");
    fs::write(&toml, SPARSE).unwrap();
    let path = toml.to_str().unwrap();
    let [one, two, three] = [1, 2, 3].map(|k| part(path, &folder, k, 3));
    let half = part(path, &folder, 1, 2);
    refused(&["merge", &one, &three], &["part 2 of 3 is missing"]);
    refused(&["merge", &two], &["part 1, 3 of 3 are missing"]);
    refused(&["merge", &one, &two, &two, &three], &["part 2 of 3 is there 2 times"]);
    refused(&["merge", &one, &two, &half], &["different splits"]);
    refused(&["merge", &one, path], &["it is no checkpoint"]);
    refused(&["merge", "no-such-file"], &["no such file"]);

    fs::write(&toml, SPARSE.replace("most_mm = 3\nstep_mm = 0.2", "most_mm = 2.8\nstep_mm = 0.2"))
        .unwrap();
    fs::create_dir(folder.join("other")).unwrap();
    let other = part(path, &folder.join("other"), 2, 3);
    refused(&["merge", &one, &other, &three], &["another brief"]);

    // the same search by another version of the program
    let mut bytes = fs::read(&two).unwrap();
    let version = env!("CARGO_PKG_VERSION").as_bytes();
    let at = bytes.windows(version.len()).position(|w| w == version).unwrap();
    bytes[at] = b'9';
    let mended = reframed(bytes);
    let old = folder.join("old");
    fs::write(&old, mended).unwrap();
    refused(&["merge", &one, old.to_str().unwrap(), &three], &["another version"]);

    // a part that was not searched to its end
    let bytes = fs::read(&two).unwrap();
    fs::write(&two, &bytes[..bytes.len() - 1]).unwrap();
    refused(&["merge", &one, &two, &three], &["part 2 of 3 is not done", "--resume"]);
}

/// The file with the digest of its first frame made anew.
fn reframed(mut bytes: Vec<u8>) -> Vec<u8> {
    let start = bytes.iter().position(|b| *b == b'\n').unwrap() + 1;
    let n = u64::from_le_bytes(bytes[start..start + 8].try_into().unwrap()) as usize;
    let sum = stillair::study::digest::digest(&bytes[start + 8..start + 8 + n]);
    bytes[start + 8 + n..start + 16 + n].copy_from_slice(&sum.to_le_bytes());
    bytes
}

#[test]
fn parts_that_make_no_sense_are_refused() {
    for bad in ["0/3", "4/3", "1", "1/0", "a/b", "1/1000000", "-1/3", "1,3"] {
        let arguments = ["seek", "brief.toml", "--checkpoint", "x", &format!("--part={bad}")];
        let (out, err, code) = crate::study_seek::fixtures::stillair(&arguments, "1");
        assert_eq!((code, out.as_str()), (2, ""), "{bad}");
        assert!(err.contains("expected K/N"), "{bad}: {err}");
    }
}
