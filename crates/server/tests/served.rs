//! What the server hands out, and what it does not.

#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

use std::fs;

use axum::body::Body;
use axum::http::{Request, StatusCode};
use dewpath_server::{Options, router};
use http_body_util::BodyExt;
use tower::ServiceExt;

struct Got {
    status: StatusCode,
    kind: String,
    policy: String,
    text: String,
}

async fn get(options: &Options, path: &str) -> Got {
    let request = Request::builder().uri(path).body(Body::empty()).unwrap();
    let response = router(options).oneshot(request).await.unwrap();
    let header = |name: &str| {
        response.headers().get(name).map_or_else(String::new, |v| v.to_str().unwrap().to_owned())
    };
    let (status, kind, policy) =
        (response.status(), header("content-type"), header("content-security-policy"));
    let bytes = response.into_body().collect().await.unwrap().to_bytes();
    Got { status, kind, policy, text: String::from_utf8_lossy(&bytes).into_owned() }
}

fn folders() -> (tempfile::TempDir, Options) {
    let root = tempfile::tempdir().unwrap();
    let (page, jobs) = (root.path().join("page"), root.path().join("jobs"));
    fs::create_dir_all(jobs.join("library")).unwrap();
    fs::create_dir_all(&page).unwrap();
    fs::write(page.join("index.html"), "<title>Dewpath</title>").unwrap();
    fs::write(page.join("engine.wasm"), [0, 97, 115, 109]).unwrap();
    fs::write(jobs.join("attic.toml"), "format = 1\nshow = \"us\"\n").unwrap();
    fs::write(jobs.join("library/fans.csv"), "id\n").unwrap();
    fs::write(jobs.join("notes.txt"), "private").unwrap();
    fs::write(jobs.join(".hidden.toml"), "format = 1\nname = \"no\"\n").unwrap();
    fs::write(root.path().join("outside.toml"), "secret = true\n").unwrap();
    let options = Options::here(page, jobs, 0);
    (root, options)
}

#[tokio::test]
async fn the_page_comes_with_its_kinds_and_its_policy() {
    let (_root, options) = folders();
    let page = get(&options, "/").await;
    assert_eq!((page.status, page.text.as_str()), (StatusCode::OK, "<title>Dewpath</title>"));
    assert!(page.policy.contains("'wasm-unsafe-eval'"), "{}", page.policy);
    // WebAssembly is compiled while it streams only under its own media type (WebAssembly Web API, W3C).
    assert_eq!(get(&options, "/engine.wasm").await.kind, "application/wasm");
}

#[tokio::test]
async fn jobs_are_listed_and_read() {
    let (_root, options) = folders();
    let list: serde_json::Value =
        serde_json::from_str(&get(&options, "/folder").await.text).unwrap();
    let want = serde_json::json!([
        { "name": "attic.toml", "is_job": true },
        { "name": "library/fans.csv", "is_job": false },
    ]);
    assert_eq!(list, want);
    assert_eq!(get(&options, "/folder/attic.toml").await.text, "format = 1\nshow = \"us\"\n");
    assert_eq!(get(&options, "/folder/library/fans.csv").await.text, "id\n");
}

#[tokio::test]
async fn nothing_outside_the_folder_is_handed_out() {
    let (root, options) = folders();
    let paths = [
        "/folder/../outside.toml",
        "/folder/%2e%2e/outside.toml",
        "/folder/..%2foutside.toml",
        "/folder//etc/passwd",
        "/folder/notes.txt",
        "/folder/.hidden.toml",
        "/folder/none.toml",
        "/folder/library",
    ];
    for path in paths {
        let got = get(&options, path).await;
        assert_ne!(got.status, StatusCode::OK, "{path}: {}", got.text);
        assert!(!got.text.contains("secret") && !got.text.contains("private"), "{path}");
    }
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(
            root.path().join("outside.toml"),
            options.jobs.join("link.toml"),
        )
        .unwrap();
        assert_eq!(get(&options, "/folder/link.toml").await.status, StatusCode::NOT_FOUND);
    }
}
