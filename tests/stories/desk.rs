//! A person at a terminal.

use std::io::{Read as _, Write};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};

/// The program on a terminal of its own, with a home of its own.
pub(crate) struct Desk {
    screen: vt100::Parser,
    output: Receiver<Vec<u8>>,
    keys: Option<Box<dyn Write + Send>>,
    master: Option<Box<dyn MasterPty + Send>>,
    child: Box<dyn Child + Send + Sync>,
    /// Its home; files of the story go there.
    pub(crate) home: PathBuf,
    _folder: tempfile::TempDir,
}

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).expect("a terminal has cells")
}

/// How long anything may take.
pub(crate) fn limit() -> Duration {
    let asked = std::env::var("SCANTLING_STORY_SECONDS").ok().and_then(|text| text.parse().ok());
    Duration::from_secs(asked.unwrap_or(60))
}

impl Desk {
    /// The program with these arguments at 100 by 30.
    pub(crate) fn start(arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_scantling"));
        command.args(arguments);
        Self::run(command, folder)
    }

    /// The program under the roof of another story.
    pub(crate) fn at(home: &Path, arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_scantling"));
        command.args(arguments);
        Self::run_at(command, folder, home)
    }

    /// How long the program takes from its start to its first picture.
    pub(crate) fn first_frame(arguments: &[&str]) -> Duration {
        let start = Instant::now();
        let mut desk = Self::start(arguments);
        while !desk.text().contains("q quit") {
            let bytes = desk.output.recv_timeout(limit()).expect("a picture");
            desk.screen.process(&bytes);
        }
        let taken = start.elapsed();
        desk.types("q");
        desk.ends();
        taken
    }

    /// A shell that can stop the program and call it again.
    pub(crate) fn shell() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let mut command = CommandBuilder::new("/bin/sh");
        command.args(["-i", "-m"]);
        command.env("PS1", "ready> ");
        Self::run(command, folder)
    }

    /// Another program under the same roof.
    pub(crate) fn other(program: &Path, arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let mut command = CommandBuilder::new(program);
        command.args(arguments);
        Self::run(command, folder)
    }

    fn run(command: CommandBuilder, folder: tempfile::TempDir) -> Self {
        let home = folder.path().to_owned();
        Self::run_at(command, folder, &home)
    }

    fn run_at(mut command: CommandBuilder, folder: tempfile::TempDir, home: &Path) -> Self {
        let size = PtySize { rows: 30, cols: 100, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).expect("a pseudo-terminal");
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.env("LC_ALL", "C.UTF-8");
        command.env("HOME", home);
        for name in ["NO_COLOR", "XDG_STATE_HOME", "XDG_DATA_HOME", "COLORFGBG"] {
            command.env_remove(name);
        }
        command.cwd(home);
        let child = pair.slave.spawn_command(command).expect("the program starts");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("its output");
        let keys = pair.master.take_writer().expect("its input");
        let (sender, output) = channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(count) = reader.read(&mut bytes) {
                if count == 0 || sender.send(bytes[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        Self {
            screen: vt100::Parser::new(cells(30), cells(100), 0),
            output,
            keys: Some(keys),
            master: Some(pair.master),
            child,
            home: home.to_owned(),
            _folder: folder,
        }
    }

    /// What stands on the screen.
    pub(crate) fn text(&self) -> String {
        self.screen.screen().contents()
    }

    /// Waits until the screen is as wanted.
    pub(crate) fn until(&mut self, what: &str, wanted: impl Fn(&vt100::Screen) -> bool) {
        let end = Instant::now() + limit();
        while !wanted(self.screen.screen()) {
            // What is waited for may be a file: look again without new output.
            match self.output.recv_timeout(Duration::from_millis(50)) {
                Ok(bytes) => self.screen.process(&bytes),
                Err(RecvTimeoutError::Timeout) if Instant::now() < end => {}
                Err(_) => panic!("waited in vain for {what}:\n{}", self.text()),
            }
        }
    }

    /// Waits until the screen holds a text.
    pub(crate) fn sees(&mut self, text: &str) -> &mut Self {
        self.until(text, |screen| screen.contents().contains(text));
        self
    }

    /// Bytes the program writes within a time.
    pub(crate) fn hears(&mut self, time: Duration) -> usize {
        let end = Instant::now() + time;
        let mut count = 0;
        while let Ok(bytes) =
            self.output.recv_timeout(end.saturating_duration_since(Instant::now()))
        {
            count += bytes.len();
            self.screen.process(&bytes);
        }
        count
    }

    /// Waits until nothing was written for so long.
    pub(crate) fn is_quiet_for(&mut self, time: Duration) {
        let end = Instant::now() + limit();
        while self.hears(time) > 0 {
            assert!(Instant::now() < end, "it is never quiet:\n{}", self.text());
        }
    }

    /// Types; `\r` is Enter, `\x1b` Esc, `\t` Tab.
    pub(crate) fn types(&mut self, keys: &str) -> &mut Self {
        let writer = self.keys.as_mut().expect("the terminal is there");
        writer.write_all(keys.as_bytes()).expect("keys go in");
        writer.flush().expect("keys go in");
        self
    }

    /// Goes to a stage by the finder and waits for its words.
    pub(crate) fn stage(&mut self, name: &str, words: &str) -> &mut Self {
        self.types("f").sees("Find an action").types(&format!("go to {name}"));
        self.sees(&format!("go to {name}")).types("\r").sees(words)
    }

    /// The number of the process.
    pub(crate) fn process(&self) -> u32 {
        self.child.process_id().expect("it runs")
    }

    /// Sends a signal.
    pub(crate) fn signal(&self, name: &str) {
        send(self.process(), name);
    }

    /// Waits until the shell has asked so many times, on the screen it was
    /// found with.
    pub(crate) fn prompts(&mut self, count: usize) -> &mut Self {
        self.until(&format!("prompt {count} of the shell"), |screen| {
            !screen.alternate_screen() && screen.contents().matches("ready>").count() >= count
        });
        self
    }

    /// Waits for the end.
    pub(crate) fn ends(&mut self) -> ExitStatus {
        let end = Instant::now() + limit();
        loop {
            if let Some(status) = self.child.try_wait().expect("its state") {
                // What it said last.
                while let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(200)) {
                    self.screen.process(&bytes);
                }
                return status;
            }
            assert!(Instant::now() < end, "it does not end:\n{}", self.text());
            // Output is read all the while, else the program could not write.
            if let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(20)) {
                self.screen.process(&bytes);
            }
        }
    }

    /// The terminal is as it was found: main screen, cursor, no mouse, no
    /// bracketed paste.
    pub(crate) fn is_usable(&self) {
        let screen = self.screen.screen();
        assert!(!screen.alternate_screen(), "still on the other screen");
        assert!(!screen.hide_cursor(), "the cursor is hidden");
        assert!(!screen.bracketed_paste(), "pasting is still bracketed");
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
    }

    /// Echo and line editing are on again.
    pub(crate) fn is_cooked(&self) {
        let master = self.master.as_ref().expect("the terminal is there");
        let mode = master.get_termios().expect("its mode");
        let said = format!("{mode:?}");
        assert!(said.contains("ECHO") && said.contains("ICANON"), "{said}");
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        // A story that failed leaves no process behind.
        let _ = self.child.kill();
    }
}

/// Whether a process still runs; one that only waits to be asked how it ended
/// does not.
pub(crate) fn runs(process: u32) -> bool {
    let asked = std::process::Command::new("ps")
        .args(["-o", "stat=", "-p", &process.to_string()])
        .output()
        .expect("ps runs");
    let state = String::from_utf8_lossy(&asked.stdout);
    !state.trim().is_empty() && !state.trim().starts_with('Z')
}

/// Sends a signal by the program of that trade.
pub(crate) fn send(process: u32, name: &str) {
    let status = std::process::Command::new("kill")
        .args([&format!("-{name}"), &process.to_string()])
        .status()
        .expect("kill runs");
    assert!(status.success());
}
