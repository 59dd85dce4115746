//! Asking for files and folders.

use std::path::{Path, PathBuf};

use egui::{Align2, Ui, Vec2};
use egui_file_dialog::{FileDialog, FileDialogLabels};

use super::{ForArt, Pack, Wish};

/// How large it opens, points.
const SIZE: Vec2 = Vec2::new(720.0, 460.0);

/// The dialog that is open, and what for.
#[derive(Debug, Default)]
pub(super) struct Dialogs {
    open: Option<(FileDialog, Wanted)>,
    /// The folder that was looked at last.
    folder: Option<PathBuf>,
}

#[derive(Clone, Debug, PartialEq)]
enum Wanted {
    Picture(ForArt),
    Design,
    NewFolder(&'static str),
    Copy,
    Pack(Pack),
}

impl Dialogs {
    /// Asks for a picture.
    pub fn choose_picture(&mut self, art: ForArt) {
        let endings = vec!["png", "jpg", "jpeg", "svg", "PNG", "JPG", "JPEG", "SVG"];
        let dialog = self.dialog("Choose a picture").add_file_filter_extensions("Pictures", endings);
        self.pick_file(dialog.default_file_filter("Pictures"), Wanted::Picture(art));
    }

    /// Asks for a design's folder.
    pub fn open_design(&mut self) {
        let dialog = self.dialog("Open a design: choose its folder");
        self.pick_folder(dialog, Wanted::Design);
    }

    /// Asks where a new design goes.
    pub fn begin(&mut self, starter: &'static str) {
        let dialog = self.dialog("Where does the new design go?").default_file_name(starter);
        self.save(dialog, Wanted::NewFolder(starter));
    }

    /// Asks where a copy goes.
    pub fn save_as(&mut self, name: &str) {
        let dialog = self.dialog("Where does the copy go?").default_file_name(name);
        self.save(dialog, Wanted::Copy);
    }

    /// Asks where a pack goes.
    pub fn make(&mut self, pack: Pack, beside: &Path) {
        self.folder = Some(beside.to_owned());
        let name = match pack {
            Pack::Proof => "proof",
            Pack::Kitchen => "kitchen",
        };
        let title = format!("Where does the {} go?", pack.word().to_lowercase());
        let dialog = self.dialog(&title).default_file_name(name);
        self.save(dialog, Wanted::Pack(pack));
    }

    /// Whether one is open: keys are its own then.
    pub const fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Shows the dialog that is open; gives what was chosen.
    pub fn show(&mut self, ui: &Ui) -> Option<Wish> {
        let (dialog, wanted) = self.open.as_mut()?;
        dialog.update(ui.ctx());
        if let Some(path) = dialog.take_picked() {
            let wanted = wanted.clone();
            self.folder = path.parent().map(Path::to_owned);
            self.open = None;
            return Some(match wanted {
                Wanted::Picture(art) => Wish::BringIn(path, art),
                Wanted::Design => Wish::Open(path),
                Wanted::NewFolder(starter) => Wish::Begin(starter, path),
                Wanted::Copy => Wish::SaveAs(path),
                Wanted::Pack(pack) => Wish::Make(pack, path),
            });
        }
        if !matches!(dialog.state(), egui_file_dialog::DialogState::Open) {
            self.open = None;
        }
        None
    }

    fn dialog(&self, title: &str) -> FileDialog {
        let dialog = plain(FileDialog::new().title(title).as_modal(true)).labels(labels());
        let dialog = dialog.anchor(Align2::CENTER_CENTER, Vec2::ZERO).default_size(SIZE).show_search(false);
        match &self.folder {
            Some(folder) => dialog.initial_directory(folder.clone()),
            None => dialog,
        }
    }

    fn pick_file(&mut self, mut dialog: FileDialog, wanted: Wanted) {
        dialog.pick_file();
        self.open = Some((dialog, wanted));
    }

    fn pick_folder(&mut self, mut dialog: FileDialog, wanted: Wanted) {
        dialog.pick_directory();
        self.open = Some((dialog, wanted));
    }

    fn save(&mut self, mut dialog: FileDialog, wanted: Wanted) {
        dialog.save_file();
        self.open = Some((dialog, wanted));
    }
}

/// The dialog's own signs are pictures that our letters lack.
fn plain(dialog: FileDialog) -> FileDialog {
    dialog
        .err_icon("✖")
        .default_file_icon("–")
        .default_folder_icon("▸")
        .device_icon("•")
        .removable_device_icon("•")
        .parent_directory_icon("↑")
        .back_icon("←")
        .forward_icon("→")
        .path_edit_icon("✎")
}

fn labels() -> FileDialogLabels {
    FileDialogLabels {
        reload: "Look again".to_owned(),
        working_directory: "Where Tierproof was started".to_owned(),
        select_all: "All".to_owned(),
        heading_pinned: "Kept at hand".to_owned(),
        heading_devices: "Disks".to_owned(),
        heading_removable_devices: "Disks to take out".to_owned(),
        home_dir: "Home".to_owned(),
        desktop_dir: "Desktop".to_owned(),
        documents_dir: "Documents".to_owned(),
        downloads_dir: "Downloads".to_owned(),
        audio_dir: "Music".to_owned(),
        pictures_dir: "Pictures".to_owned(),
        videos_dir: "Films".to_owned(),
        pin_folder: "Keep at hand".to_owned(),
        unpin_folder: "Keep at hand no more".to_owned(),
        rename_pinned_folder: "Rename".to_owned(),
        selected_directory: "Folder:".to_owned(),
        selected_file: "File:".to_owned(),
        file_name: "Folder’s name:".to_owned(),
        file_filter_all_files: "All files".to_owned(),
        open_button: "Open".to_owned(),
        save_button: "Here".to_owned(),
        cancel_button: "Cancel".to_owned(),
        ..FileDialogLabels::default()
    }
}
