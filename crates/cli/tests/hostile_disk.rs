//! The binary where the disk, the other processes or the operator are against it: nothing is lost, nothing half-written.

#![cfg(unix)]
mod common;

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::process::{CommandExt, ExitStatusExt};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use common::{command, ended, names, procedure, procedures, root, run, text, whole_sheets};

/// A user without any rights, the number that Linux gives to `nobody`.
const NOBODY: u32 = 65_534;

fn is_superuser() -> bool {
    let output = Command::new("id").arg("-u").output().unwrap();
    String::from_utf8_lossy(&output.stdout).trim() == "0"
}

/// A file system in memory of a given size, or nothing where none may be mounted.
struct SmallDisk {
    folder: PathBuf,
}

impl SmallDisk {
    fn mount(folder: &Path, size: &str) -> Option<Self> {
        let options = format!("size={size}");
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", &options, "tmpfs", text(folder)]);
        let mounted = mount.output().is_ok_and(|output| output.status.success());
        mounted.then(|| Self { folder: folder.to_owned() })
    }

    fn resize(&self, size: &str) {
        let options = format!("remount,size={size}");
        let status = Command::new("mount").args(["-o", &options, text(&self.folder)]).status().unwrap();
        assert!(status.success());
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.folder).status();
    }
}

#[test]
fn a_full_disk_leaves_whole_sheets_and_a_message() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    let Some(disk) = SmallDisk::mount(&out, "128k") else {
        println!("skipped: no small file system may be mounted here");
        return;
    };
    let input = folder.path().join("in");
    procedures(&input, 20);
    let args = ["render", text(&input), "--out", text(&out)];
    let (code, _, said) = run(&args);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("cannot be written: no space left on device"), "{said}");
    let written = whole_sheets(&out);
    assert!((1..40).contains(&written), "{written}");
    assert!(names(&out).iter().all(|name| !name.starts_with('.')), "{:?}", names(&out));
    // What was there before a sheet that no longer fits stays.
    let kept = fs::read(out.join(&names(&out)[0])).unwrap();
    run(&args);
    assert_eq!(fs::read(out.join(&names(&out)[0])).unwrap(), kept);
    disk.resize("8m");
    let (code, _, said) = run(&args);
    assert_eq!((code, whole_sheets(&out)), (0, 40), "{said}");
}

#[test]
fn a_pipe_waits_for_its_writer_but_not_for_ever() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe.yaml");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let (code, _, said) = run(&["check", text(&pipe)]);
    assert!(code == 2 && said.contains("it is a pipe, and nothing has opened it to write"), "{said}");
    let own = procedure("P-1", "Trial");
    let writer = std::thread::spawn({
        let (pipe, own) = (pipe.clone(), own.clone());
        move || {
            std::thread::sleep(std::time::Duration::from_millis(200));
            fs::write(pipe, own)
        }
    });
    let (code, out, said) = run(&["check", text(&pipe)]);
    assert!(code == 0 && out.contains("0 errors"), "{said}");
    writer.join().unwrap().unwrap();
    // As a shell hands over what another command prints.
    let file = folder.path().join("p.yaml");
    fs::write(&file, own).unwrap();
    let line = format!("{} check <(cat {})", env!("CARGO_BIN_EXE_seamwright"), text(&file));
    let output = Command::new("bash").args(["-c", &line]).output().unwrap();
    assert_eq!(ended(&output).0, 0, "{}", ended(&output).2);
    let socket = folder.path().join("socket.yaml");
    let _listens = std::os::unix::net::UnixListener::bind(&socket).unwrap();
    for (path, says) in [
        (text(&socket), "it is a socket, and no file"),
        ("/dev/zero", "the file is larger than"),
        ("/dev/null", "the file is empty"),
    ] {
        let (code, _, said) = run(&["check", path]);
        assert!(code == 2 && said.contains(says), "{path}: {said}");
    }
}

#[test]
fn a_limit_on_the_size_of_files_leaves_nothing_half_written() {
    let folder = tempfile::tempdir().unwrap();
    procedures(&folder.path().join("in"), 2);
    let out = folder.path().join("out");
    // Four blocks of 1 KiB; without its signal the system says so at the write.
    let mut shell = Command::new("bash");
    shell.args(["-c", "trap '' XFSZ; ulimit -f 4; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_seamwright")]);
    let output = shell.args(["render", text(&folder.path().join("in")), "--out", text(&out)]).output().unwrap();
    let (code, _, said) = ended(&output);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("cannot be written: file too large"), "{said}");
    assert_eq!(names(&out), Vec::<String>::new());
}

#[test]
fn a_full_device_for_results_or_messages_is_told_by_the_exit_status() {
    for (args, code) in [
        (&["check", "procedures", "--format", "json"][..], 2),
        (&["table"], 2),
        (&["schema"], 2),
        (&["explain"], 2),
        (&["calc", "convert", "1 in", "--to", "mm"], 2),
    ] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = command(args).stdout(full).output().unwrap();
        let (found, _, said) = ended(&output);
        assert_eq!(found, code, "{args:?}: {said}");
        assert!(said.to_lowercase().contains("no space left on device"), "{args:?}: {said}");
    }
    for (args, code) in
        [(["check", "procedures"], 0), (["check", "examples/submitted"], 1), (["check", "nowhere.yaml"], 2)]
    {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let status = command(&args).stdout(Stdio::null()).stderr(full).status().unwrap();
        assert_eq!(status.code(), Some(code), "{args:?}");
    }
}

#[test]
fn a_folder_that_may_not_be_written_is_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let everyone = fs::Permissions::from_mode(0o755);
    fs::set_permissions(folder.path(), everyone.clone()).unwrap();
    procedures(&folder.path().join("in"), 2);
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("p0000.pdf"), "kept").unwrap();
    fs::set_permissions(&out, fs::Permissions::from_mode(0o555)).unwrap();
    // Who may do anything writes there all the same: the binary runs as somebody else, from where that one may read it.
    let binary = folder.path().join("seamwright");
    fs::copy(env!("CARGO_BIN_EXE_seamwright"), &binary).unwrap();
    fs::set_permissions(&binary, everyone).unwrap();
    let mut command = Command::new(&binary);
    command.args(["render", text(&folder.path().join("in")), "--out", text(&out)]).current_dir(folder.path());
    if is_superuser() {
        command.uid(NOBODY).gid(NOBODY);
    }
    let (code, _, said) = ended(&command.output().unwrap());
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("cannot be written: permission denied"), "{said}");
    assert_eq!(names(&out), ["p0000.pdf"]);
    assert_eq!(fs::read_to_string(out.join("p0000.pdf")).unwrap(), "kept");
}

#[test]
fn links_among_the_inputs_lead_neither_round_nor_astray() {
    let folder = tempfile::tempdir().unwrap();
    let input = folder.path().join("in");
    procedures(&input.join("deeper"), 1);
    symlink(&input, input.join("round")).unwrap();
    symlink("..", input.join("deeper/up")).unwrap();
    symlink("itself.yaml", input.join("itself.yaml")).unwrap();
    symlink("nowhere.yaml", input.join("broken.yaml")).unwrap();
    symlink("deeper/p0000.yaml", input.join("linked.yaml")).unwrap();
    let status = Command::new("mkfifo").arg(input.join("pipe.yaml")).status().unwrap();
    assert!(status.success());
    let out = folder.path().join("out");
    let (code, _, said) = run(&["render", text(&input), "--out", text(&out), "--to", "html"]);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("itself.yaml: cannot be read: too many levels of symbolic links"), "{said}");
    assert!(said.contains("broken.yaml: cannot be read: no such file"), "{said}");
    assert!(said.contains("pipe.yaml: cannot be read: it is not a regular file"), "{said}");
    assert_eq!(names(&out), ["deeper", "index.html", "linked.html"]);
    assert_eq!(names(&out.join("deeper")), ["p0000.html"]);
}

#[test]
fn a_link_in_the_place_of_a_sheet_is_replaced_and_its_target_kept() {
    let folder = tempfile::tempdir().unwrap();
    procedures(&folder.path().join("in"), 1);
    let precious = folder.path().join("precious");
    fs::write(&precious, "kept").unwrap();
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    symlink(&precious, out.join("p0000.pdf")).unwrap();
    symlink(out.join("index.html"), out.join("index.html")).unwrap();
    let (code, _, said) = run(&["render", text(&folder.path().join("in")), "--out", text(&out)]);
    assert_eq!(code, 0, "{said}");
    assert_eq!(fs::read_to_string(&precious).unwrap(), "kept");
    assert!(!out.join("p0000.pdf").is_symlink());
    assert_eq!(whole_sheets(&out), 2);
    // Nobody waits for what a pipe or a device in the place of a sheet would say.
    fs::remove_file(out.join("p0000.pdf")).unwrap();
    fs::remove_file(out.join("p0000.html")).unwrap();
    symlink("/dev/zero", out.join("p0000.pdf")).unwrap();
    assert!(Command::new("mkfifo").arg(out.join("p0000.html")).status().unwrap().success());
    let (code, _, said) = run(&["render", text(&folder.path().join("in")), "--out", text(&out)]);
    assert_eq!((code, whole_sheets(&out)), (0, 2), "{said}");
    // A folder in the place of a sheet stays, and is told.
    fs::remove_file(out.join("p0000.pdf")).unwrap();
    fs::create_dir_all(out.join("p0000.pdf/inside")).unwrap();
    let (code, _, said) = run(&["render", text(&folder.path().join("in")), "--out", text(&out)]);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("p0000.pdf: cannot be written"), "{said}");
    assert!(out.join("p0000.pdf/inside").is_dir());
    assert!(names(&out).iter().all(|name| !name.starts_with('.')), "{:?}", names(&out));
}

#[test]
fn a_sheet_never_takes_the_place_of_what_is_read_or_of_another_sheet() {
    let folder = tempfile::tempdir().unwrap();
    procedures(folder.path(), 1);
    let here = text(folder.path());
    run(&["render", text(&folder.path().join("p0000.yaml")), "--out", here]);
    let received = folder.path().join("p0000.pdf");
    let before = fs::read(&received).unwrap();
    let (code, _, said) = run(&["render", text(&received), "--out", here, "--units", "us"]);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("would take the place of the file itself"), "{said}");
    assert_eq!(fs::read(&received).unwrap(), before);
    let input = folder.path().join("in");
    procedures(&input, 1);
    fs::write(input.join("p0000.review.yaml"), procedure("P-2", "Trial")).unwrap();
    let out = folder.path().join("out");
    let both = ["render", text(&input), "--out", text(&out), "--sheet", "procedure,review"];
    let (code, _, said) = run(&both);
    assert_eq!(code, 2, "{said}");
    assert!(said.contains("would write the same sheets"), "{said}");
    assert_eq!(names(&out), Vec::<String>::new());
    assert_eq!(run(&both[..4]).0, 0);
}

/// Starts a long run and waits until it has written some sheets.
fn in_the_middle(input: &Path, out: &Path) -> Child {
    let args = ["render", text(input), "--out", text(out)];
    let mut child = command(&args).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap();
    while names(out).len() < 20 {
        assert!(child.try_wait().unwrap().is_none(), "it ended before it was disturbed");
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    child
}

fn signal(child: &Child, name: &str) {
    let status = Command::new("kill").args([name, &child.id().to_string()]).status().unwrap();
    assert!(status.success());
}

#[test]
fn an_interrupted_batch_leaves_whole_sheets_and_says_how_many() {
    let folder = tempfile::tempdir().unwrap();
    let (input, out) = (folder.path().join("in"), folder.path().join("out"));
    procedures(&input, 2000);
    for name in ["-INT", "-TERM"] {
        let _ = fs::remove_dir_all(&out);
        let child = in_the_middle(&input, &out);
        signal(&child, name);
        let (code, _, said) = ended(&child.wait_with_output().unwrap());
        assert_eq!(code, 2, "{said}");
        let written = whole_sheets(&out);
        assert!((20..3990).contains(&written), "{written}");
        assert!(said.contains(&format!("stopped by a signal: {} of 2000 files are done", written / 2)), "{said}");
        assert!(names(&out).iter().all(|name| !name.starts_with('.') && name != "index.html"));
    }
}

#[test]
fn a_killed_batch_leaves_whole_sheets_and_the_next_one_clears_up() {
    let folder = tempfile::tempdir().unwrap();
    let (input, out) = (folder.path().join("in"), folder.path().join("out"));
    procedures(&input, 2000);
    let mut child = in_the_middle(&input, &out);
    signal(&child, "-KILL");
    assert_eq!(child.wait().unwrap().signal(), Some(9));
    assert!(whole_sheets(&out) >= 19);
    // What a killed run leaves is hidden and locked by nobody; what another run is writing is locked.
    fs::write(out.join(".seamwright-dead.part"), "%PDF-1.7 half").unwrap();
    fs::write(out.join(".seamwright-live.part"), "%PDF-1.7 half").unwrap();
    fs::write(out.join(".somebody-else.part"), "kept").unwrap();
    let live = fs::File::open(out.join(".seamwright-live.part")).unwrap();
    live.lock().unwrap();
    let (code, _, said) = run(&["render", text(&input.join("p0000.yaml")), "--out", text(&out)]);
    assert_eq!(code, 0, "{said}");
    let hidden: Vec<String> = names(&out).into_iter().filter(|name| name.starts_with('.')).collect();
    assert_eq!(hidden, [".seamwright-live.part", ".somebody-else.part"]);
    // Begun again, the batch is what it would have been: on fewer files, those that were done among them.
    let fresh = folder.path().join("fresh");
    for number in 40..2000 {
        fs::remove_file(input.join(format!("p{number:04}.yaml"))).unwrap();
    }
    for out in [&out, &fresh] {
        let (code, _, said) = run(&["render", text(&input), "--out", text(out)]);
        assert_eq!(code, 0, "{said}");
    }
    for name in names(&fresh) {
        assert!(fs::read(out.join(&name)).unwrap() == fs::read(fresh.join(&name)).unwrap(), "{name}");
    }
}

#[test]
fn two_processes_that_write_one_folder_leave_what_one_would() {
    let folder = tempfile::tempdir().unwrap();
    let (input, alone, shared) = (folder.path().join("in"), folder.path().join("alone"), folder.path().join("shared"));
    procedures(&input, 30);
    assert_eq!(run(&["render", text(&input), "--out", text(&alone)]).0, 0);
    let start = || {
        let args = ["render", text(&input), "--out", text(&shared)];
        command(&args).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap()
    };
    for child in [start(), start(), start()] {
        let (code, _, said) = ended(&child.wait_with_output().unwrap());
        assert_eq!(code, 0, "{said}");
    }
    assert_eq!(names(&shared), names(&alone));
    for name in names(&alone) {
        assert!(fs::read(shared.join(&name)).unwrap() == fs::read(alone.join(&name)).unwrap(), "{name}");
    }
}

#[test]
fn a_file_that_changes_while_it_is_read_gives_a_sheet_of_what_was_read() {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("p.yaml"), folder.path().join("out"));
    let texts = [90, 120].map(|current| {
        let padding = "# a line that takes its time\n".repeat(4000);
        procedure("P-1", "Trial").replace("90 A", &format!("{current} A")) + &padding
    });
    fs::write(&path, &texts[0]).unwrap();
    let done = std::sync::atomic::AtomicBool::new(false);
    let mut sheets = 0;
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut turn = 0;
            while !done.load(std::sync::atomic::Ordering::Relaxed) {
                turn += 1;
                // Not in one step: a reader may see a part.
                fs::write(&path, &texts[turn % 2]).unwrap();
            }
        });
        for _ in 0..12 {
            let _ = fs::remove_dir_all(&out);
            let (code, _, said) = run(&["render", text(&path), "--out", text(&out)]);
            if code == 2 {
                assert!(said.contains("unreadable"), "{said}");
                assert_eq!(names(&out), Vec::<String>::new());
                continue;
            }
            for name in ["p.pdf", "p.html"] {
                let (code, _, said) = run(&["check", text(&out.join(name))]);
                assert!(code < 2 && said.contains("sheet is proved"), "{name}: {said}");
                sheets += 1;
            }
        }
        done.store(true, std::sync::atomic::Ordering::Relaxed);
    });
    println!("{sheets} sheets were made of a file that was being written");
}

#[test]
fn a_document_names_other_files_only_to_read_them() {
    let folder = tempfile::tempdir().unwrap();
    let work = folder.path().join("work");
    fs::create_dir(&work).unwrap();
    fs::write(folder.path().join("secret.yaml"), "password: hunter2\n").unwrap();
    fs::write(folder.path().join("secret.txt"), "root:x:0:0: hunter2\n").unwrap();
    assert!(Command::new("mkfifo").arg(work.join("pipe")).status().unwrap().success());
    for (shop, said) in [
        ("../secret.yaml", "secret.yaml: `format` is missing"),
        ("../secret.txt", "secret.txt"),
        ("../../../../../../../../dev/zero", "not a regular file"),
        ("pipe", "not a regular file"),
        ("/dev/stdin", "not a regular file"),
        ("'-'", "no such file"),
        ("p.yaml", "this is a procedure, and a shop is meant"),
        ("\"a\\\\..\\\\b\"", "no such file"),
    ] {
        let document = procedure("P-1", "Trial").replace("revision: 1,", &format!("revision: 1, shop: {shop},"));
        fs::write(work.join("p.yaml"), document).unwrap();
        let mut command = command(&["render", "p.yaml", "--out", "out"]);
        // A pipe on standard input that never ends: nothing may wait for it.
        let output = command.current_dir(&work).stdin(Stdio::piped()).spawn_with_output();
        let (code, _, found) = ended(&output);
        assert_eq!(code, 2, "{shop}: {found}");
        assert!(found.contains(said), "{shop}: {found}");
        assert!(found.contains("p.yaml:3:"), "{shop}: {found}");
        assert!(!found.contains("hunter2"), "{shop}: {found}");
        assert_eq!(names(&work.join("out")), Vec::<String>::new(), "{shop}");
    }
    assert_eq!(names(folder.path()), ["secret.txt", "secret.yaml", "work"]);
}

/// Runs a command whose standard input stays open while it runs.
trait Waited {
    fn spawn_with_output(&mut self) -> std::process::Output;
}

impl Waited for Command {
    fn spawn_with_output(&mut self) -> std::process::Output {
        let mut child = self.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let input = child.stdin.take();
        let output = child.wait_with_output().unwrap();
        drop(input);
        output
    }
}

#[test]
fn a_number_with_a_path_in_it_names_no_file() {
    let folder = tempfile::tempdir().unwrap();
    let work = folder.path().join("work");
    fs::create_dir(&work).unwrap();
    fs::write(work.join("p.yaml"), procedure("../../escaped", "Trial")).unwrap();
    let (code, _, said) = run(&["render", text(&work.join("p.yaml")), "--out", text(&work.join("out")), "--binder"]);
    assert_eq!(code, 0, "{said}");
    assert_eq!(names(&work.join("out")), ["binder.pdf", "p.html", "p.pdf"]);
    assert_eq!(names(folder.path()), ["work"]);
    let bytes = fs::read(work.join("out/p.pdf")).unwrap();
    assert_eq!(seamwright_page::pdf::source_of(&bytes).unwrap().file_name, "p.yaml");
}

#[test]
fn a_sheet_is_the_same_on_every_run_thread_and_folder() {
    let folder = tempfile::tempdir().unwrap();
    let outs = ["one", "many", "elsewhere"].map(|name| folder.path().join(name));
    let kinds = "procedure,bench-card,review";
    let args = |out: &Path, jobs: &str, input: &Path| {
        ["render", text(input), "--out", text(out), "--jobs", jobs, "--sheet", kinds, "--binder"].map(str::to_owned)
    };
    let library = root().join("procedures");
    assert_eq!(run(&args(&outs[0], "1", Path::new("procedures"))).0, 0);
    assert_eq!(run(&args(&outs[1], "4", Path::new("./procedures"))).0, 0);
    let mut command = command(&args(&outs[2], "2", &library));
    command.current_dir(folder.path()).env("TZ", "Pacific/Apia").env("LANG", "tr_TR.UTF-8").env("HOME", "/");
    assert_eq!(ended(&command.output().unwrap()).0, 0);
    let made = names(&outs[0]);
    assert!(made.len() > 140, "{}", made.len());
    for other in &outs[1..] {
        assert_eq!(names(other), made);
        for name in &made {
            assert!(fs::read(outs[0].join(name)).unwrap() == fs::read(other.join(name)).unwrap(), "{name}");
        }
    }
}

#[test]
fn a_reader_that_leaves_early_changes_nothing_of_the_exit_status() {
    for (args, status) in [
        (&["check", "examples/submitted", "procedures"][..], 1),
        (&["check", "examples/submitted", "procedures", "--format", "json"], 1),
        (&["check", "procedures/lap-fillet-2-carbon-141.yaml"], 0),
    ] {
        let mut child = command(args).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
        drop(child.stdout.take());
        assert_eq!(child.wait().unwrap().code(), Some(status), "{args:?}");
    }
}
