use super::fabricated;
use relatch::internals::predict::Outcome;
use relatch::internals::present::{self, FilesError, Folder, Look, Written};
use std::fs;

fn write(outcome: &Outcome, folder: &Folder) -> Result<Written, FilesError> {
    present::write(outcome, folder, &Look::default(), Vec::new())
}

#[test]
fn a_new_folder_is_numbered_and_whole() {
    let parent = tempfile::tempdir().unwrap();
    let folder = Folder::New {
        parent: parent.path().to_owned(),
        stem: "pug-mill".into(),
    };
    let first = write(&fabricated::latch(), &folder).unwrap();
    let second = write(&fabricated::holds(), &folder).unwrap();
    assert!(first.folder.ends_with("relatch-out-pug-mill"));
    assert!(second.folder.ends_with("relatch-out-pug-mill-2"));
    let mut found: Vec<String> = fs::read_dir(&first.folder)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    found.sort();
    let mut names = first.names.clone();
    names.sort();
    assert_eq!(found, names);
    assert_eq!(names.len(), 5 + 2 * 11);
    assert!(!second.names.contains(&"characteristic.csv".to_owned()));
}

#[test]
fn a_folder_with_something_in_it_is_refused_and_untouched() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("result.json"), "mine").unwrap();
    let given = |force| Folder::Given {
        path: folder.path().to_owned(),
        force,
    };
    let refused = write(&fabricated::holds(), &given(false));
    assert!(matches!(refused, Err(FilesError::NotEmpty(_))));
    assert_eq!(
        fs::read_to_string(folder.path().join("result.json")).unwrap(),
        "mine"
    );
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);

    fs::write(folder.path().join("notes.txt"), "keep").unwrap();
    write(&fabricated::holds(), &given(true)).unwrap();
    assert!(
        fs::read_to_string(folder.path().join("result.json"))
            .unwrap()
            .starts_with('{')
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("notes.txt")).unwrap(),
        "keep"
    );
}

#[test]
fn a_file_in_place_of_the_folder_is_refused() {
    let file = tempfile::NamedTempFile::new().unwrap();
    let folder = Folder::Given {
        path: file.path().to_owned(),
        force: true,
    };
    assert!(matches!(
        write(&fabricated::holds(), &folder),
        Err(FilesError::NotAFolder(_))
    ));
}

#[test]
fn nothing_is_left_when_one_file_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("preload_shift.csv")).unwrap();
    let given = Folder::Given {
        path: folder.path().to_owned(),
        force: true,
    };
    let error = write(&fabricated::holds(), &given).unwrap_err();
    assert!(error.to_string().contains("preload_shift.csv"), "{error}");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[cfg(unix)]
#[test]
fn files_are_as_readable_as_any_new_file() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let plain = folder.path().join("plain");
    fs::write(&plain, "").unwrap();
    let expected = fs::metadata(&plain).unwrap().permissions().mode();
    let given = Folder::Given {
        path: folder.path().join("out"),
        force: false,
    };
    let written = write(&fabricated::holds(), &given).unwrap();
    let mode = fs::metadata(written.folder.join("result.json"))
        .unwrap()
        .permissions()
        .mode();
    assert_eq!(mode, expected);
}
