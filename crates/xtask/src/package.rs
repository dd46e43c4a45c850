//! Packages: a tarball, a Debian package and a Python wheel around the same binary.
//!
//! On Linux the binary is built against glibc 2.17 where `maturin` and `ziglang` (from `PyPI`) are there, so that it runs
//! on systems from 2014 on; else against this machine's, and the task says so. On macOS and Windows it is built for the
//! machine itself, and no Debian package is made unless it is asked for. Equal input gives equal bytes.

use std::env::consts::EXE_SUFFIX;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};
use clap::{Args, ValueEnum};
use flate2::{Compression, GzBuilder};
use sha2::{Digest, Sha256};

use crate::sbom;
use crate::tools::{cargo, done, printed, root};

/// What the binary is built for.
const TARGET: &str = if cfg!(all(target_os = "macos", target_arch = "aarch64")) {
    "aarch64-apple-darwin"
} else if cfg!(target_os = "macos") {
    "x86_64-apple-darwin"
} else if cfg!(all(windows, target_arch = "aarch64")) {
    "aarch64-pc-windows-msvc"
} else if cfg!(windows) {
    "x86_64-pc-windows-msvc"
} else {
    "x86_64-unknown-linux-gnu"
};
const LINUX: bool = !cfg!(any(target_os = "macos", windows));
/// What is made where nothing else is asked for.
const KINDS: &str = if LINUX { "tarball,deb,wheel" } else { "tarball,wheel" };
const GLIBC: &str = "2.17";
const VERSION: &str = env!("CARGO_PKG_VERSION");
/// Time stamp of every packed file: 2020-01-01, so that a package hangs on no clock.
const STAMP: u64 = 1_577_836_800;
/// Shells that completions are written for, and the file that each looks for.
const SHELLS: &[(&str, &str)] = &[
    ("bash", "share/bash-completion/completions/seamwright"),
    ("zsh", "share/zsh/site-functions/_seamwright"),
    ("fish", "share/fish/vendor_completions.d/seamwright.fish"),
];
const PAPERS: &[&str] = &["LICENSE-MIT", "LICENSE-APACHE", "LICENSE-FONT", "README.md", "CHANGELOG.md"];

/// Arguments of `package`.
#[derive(Debug, Args)]
pub struct PackageArgs {
    /// What to make.
    #[arg(long, value_enum, value_delimiter = ',', default_value = KINDS)]
    kinds: Vec<Kind>,
    /// Folder that the packages are written to.
    #[arg(long, default_value = "target/packages")]
    out: PathBuf,
    /// Cargo profile to build with.
    #[arg(long, default_value = "dist")]
    profile: String,
    /// A binary that is there, in place of a build.
    #[arg(long)]
    binary: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Kind {
    Tarball,
    Deb,
    Wheel,
}

/// Runs the task.
pub fn run(args: &PackageArgs) -> Result<()> {
    let out = if args.out.is_absolute() { args.out.clone() } else { root().join(&args.out) };
    fs::create_dir_all(&out).with_context(|| format!("{} cannot be made", out.display()))?;
    if LINUX && args.binary.is_none() && !old_glibc() {
        eprintln!(
            "note: maturin and zig are not here (`pip install maturin ziglang`): the binary needs this machine's glibc"
        );
    }
    let binary = match &args.binary {
        Some(path) => path.clone(),
        None => build(&args.profile)?,
    };
    let tree = tempfile::tempdir()?;
    lay_out(&binary, tree.path())?;
    let mut made = Vec::new();
    for kind in &args.kinds {
        made.push(match kind {
            Kind::Tarball => tarball(tree.path(), &out)?,
            Kind::Deb => debian(tree.path(), &out)?,
            Kind::Wheel => wheel(tree.path(), &out, &args.profile)?,
        });
    }
    let mut sums = String::new();
    for path in &made {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let digest: String = Sha256::digest(fs::read(path)?).iter().map(|byte| format!("{byte:02x}")).collect();
        println!("{}", path.display());
        sums.push_str(&format!("{digest}  {name}\n"));
    }
    fs::write(out.join("SHA256SUMS"), sums)?;
    println!("{}", out.join("SHA256SUMS").display());
    Ok(())
}

/// Builds the binary: by maturin where it is there, so that the wheel packs the same build.
fn build(profile: &str) -> Result<PathBuf> {
    let folder = if profile == "dev" { "debug" } else { profile };
    let target_dir = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    if answers("maturin", &["--version"]) {
        done(&mut maturin(profile, tempfile::tempdir()?.path()))?;
    } else {
        done(cargo().args([
            "build",
            "--package",
            "seamwright-cli",
            "--locked",
            "--profile",
            profile,
            "--target",
            TARGET,
        ]))?;
    }
    Ok(target_dir.join(TARGET).join(folder).join(format!("seamwright{EXE_SUFFIX}")))
}

/// Whether a program is here and says so.
fn answers(name: &str, args: &[&str]) -> bool {
    Command::new(name).args(args).output().is_ok_and(|output| output.status.success())
}

/// Whether the tools are here that build against an old glibc.
fn old_glibc() -> bool {
    LINUX && answers("maturin", &["--version"]) && answers("python3", &["-m", "ziglang", "version"])
}

/// What builds the program and packs its wheel into a folder.
fn maturin(profile: &str, out: &Path) -> Command {
    let mut command = Command::new("maturin");
    command
        .current_dir(root().join("crates/cli"))
        .args(["build", "--locked", "--profile", profile, "--target", TARGET, "--out"])
        .arg(out);
    if old_glibc() {
        command.args(["--zig", "--compatibility", "manylinux2014"]);
    } else if LINUX {
        command.args(["--compatibility", "linux"]);
    }
    command
}

/// Lays out the files as they are installed below a prefix.
fn lay_out(binary: &Path, tree: &Path) -> Result<()> {
    let put = |place: &str, bytes: &[u8]| -> Result<()> {
        let path = tree.join(place);
        fs::create_dir_all(path.parent().unwrap_or(tree))?;
        fs::write(path, bytes)?;
        Ok(())
    };
    put(
        &format!("bin/seamwright{EXE_SUFFIX}"),
        &fs::read(binary).with_context(|| format!("{} cannot be read", binary.display()))?,
    )?;
    for (shell, place) in SHELLS {
        put(place, &printed(Command::new(binary).args(["completions", shell]))?)?;
    }
    let manual = tree.join("share/man/man1");
    fs::create_dir_all(&manual)?;
    done(Command::new(binary).arg("manual").arg("--out").arg(&manual))?;
    for name in PAPERS {
        put(&format!("share/doc/seamwright/{name}"), &fs::read(root().join(name))?)?;
    }
    put("share/doc/seamwright/seamwright.cdx.json", &serde_json::to_vec_pretty(&sbom::of(TARGET)?)?)
}

/// Every file below a folder, by its path, sorted.
fn files(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut left = vec![folder.to_path_buf()];
    while let Some(next) = left.pop() {
        for entry in fs::read_dir(&next)? {
            let path = entry?.path();
            if path.is_dir() { left.push(path) } else { found.push(path.strip_prefix(folder)?.to_path_buf()) }
        }
    }
    found.sort();
    Ok(found)
}

fn mode(path: &Path) -> u32 {
    if path.starts_with("bin") { 0o755 } else { 0o644 }
}

fn tarball(tree: &Path, out: &Path) -> Result<PathBuf> {
    let name = format!("seamwright-{VERSION}-{TARGET}");
    let path = out.join(format!("{name}.tar.gz"));
    let packed = GzBuilder::new().mtime(0).write(fs::File::create(&path)?, Compression::best());
    let mut archive = tar::Builder::new(packed);
    for file in files(tree)? {
        let bytes = fs::read(tree.join(&file))?;
        let mut header = tar::Header::new_gnu();
        header.set_size(bytes.len() as u64);
        header.set_mode(mode(&file));
        header.set_mtime(STAMP);
        archive.append_data(&mut header, Path::new(&name).join(&file), bytes.as_slice())?;
    }
    archive.into_inner()?.finish()?;
    Ok(path)
}

fn debian(tree: &Path, out: &Path) -> Result<PathBuf> {
    let stage = tempfile::tempdir()?;
    let mut size = 0;
    for file in files(tree)? {
        let to = stage.path().join("usr").join(&file);
        fs::create_dir_all(to.parent().unwrap_or(stage.path()))?;
        size += fs::copy(tree.join(&file), &to)?;
        set_mode(&to, mode(&file))?;
    }
    let control = stage.path().join("DEBIAN");
    fs::create_dir_all(&control)?;
    fs::write(
        control.join("control"),
        format!(
            "Package: seamwright\nVersion: {VERSION}\nArchitecture: amd64\nSection: science\nPriority: optional\n\
             Maintainer: Seamwright maintainers\nInstalled-Size: {}\nDepends: libc6 (>= {GLIBC}), libgcc-s1 | libgcc1\n\
             Description: weld procedures from YAML to checked sheets\n \
             Drafts, checks, prices and prints welding procedures, and reviews what arrives.\n",
            size.div_ceil(1024)
        ),
    )?;
    let path = out.join(format!("seamwright_{VERSION}_amd64.deb"));
    done(
        Command::new("dpkg-deb")
            .env("SOURCE_DATE_EPOCH", STAMP.to_string())
            .args(["--build", "--root-owner-group", "-Zxz"])
            .arg(stage.path())
            .arg(&path)
            .stdout(std::process::Stdio::null()),
    )?;
    Ok(path)
}

#[cfg(unix)]
fn set_mode(path: &Path, mode: u32) -> Result<()> {
    use std::os::unix::fs::PermissionsExt;
    Ok(fs::set_permissions(path, fs::Permissions::from_mode(mode))?)
}

#[cfg(not(unix))]
fn set_mode(_: &Path, _: u32) -> Result<()> {
    anyhow::bail!("a Debian package is made on a system with file modes")
}

/// A wheel that holds the binary as a script, and completions and man pages as data; `pipx install FILE` puts it on the PATH.
///
/// Packed by maturin, which finds its own build of the binary done.
fn wheel(tree: &Path, out: &Path, profile: &str) -> Result<PathBuf> {
    let data = root().join("crates/cli/seamwright.data");
    if data.exists() {
        fs::remove_dir_all(&data)?;
    }
    for file in files(tree)?.iter().filter(|file| file.starts_with("share")) {
        let to = data.join("data").join(file);
        fs::create_dir_all(to.parent().unwrap_or(&data))?;
        fs::copy(tree.join(file), to)?;
    }
    let made = tempfile::tempdir()?;
    let built = done(&mut maturin(profile, made.path()))
        .context("a wheel is packed by maturin (`pip install maturin ziglang`)");
    fs::remove_dir_all(&data)?;
    built?;
    let file = files(made.path())?.into_iter().next().context("maturin wrote no wheel")?;
    let path = out.join(&file);
    fs::copy(made.path().join(&file), &path)?;
    Ok(path)
}
