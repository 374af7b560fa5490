//! Hands out the page, and the job files of a folder to open in it.
//!
//! The page does all the work on the device; this only gives it its files. It reads the folder and never writes to it.
//! Requests reach it from this machine alone unless another address is asked for.

use std::fmt;
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use axum::extract::{Path as At, State};
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Json, Router};
use dewpath_job::outline::is_job;
use serde::Serialize;
use tower_http::services::ServeDir;
use tower_http::set_header::SetResponseHeaderLayer;

/// What is handed out, and where.
#[derive(Debug, Clone)]
pub struct Options {
    /// Folder of the built page.
    pub page: PathBuf,
    /// Folder of job files.
    pub jobs: PathBuf,
    /// Address that is listened at.
    pub address: IpAddr,
    /// Port; 0 takes any that is free.
    pub port: u16,
}

impl Options {
    /// This machine alone, at a port.
    pub fn here(page: PathBuf, jobs: PathBuf, port: u16) -> Self {
        Self { page, jobs, address: IpAddr::V4(Ipv4Addr::LOCALHOST), port }
    }
}

/// A file of the folder, as the page lists it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Listed {
    /// Path below the folder, with `/` between its parts.
    pub name: String,
    /// Whether it is a job rather than something that jobs name.
    pub is_job: bool,
}

/// Files larger than this are not handed out, bytes: far more than any job or weather file has.
const LARGEST: u64 = 16 << 20;
/// Folders below the first that are looked into.
const DEEPEST: usize = 4;

/// Serves until the program is asked to stop; `told` is given the address first.
///
/// # Errors
/// When a folder is not there or the port is taken.
pub fn serve(options: &Options, told: impl FnOnce(SocketAddr)) -> io::Result<()> {
    for folder in [&options.page, &options.jobs] {
        if !folder.is_dir() {
            return Err(io::ErrorKind::NotFound.into());
        }
    }
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(async {
        let listener =
            tokio::net::TcpListener::bind(SocketAddr::new(options.address, options.port)).await?;
        told(listener.local_addr()?);
        let stop = async {
            // Without a signal to wait for it serves until it is put down.
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        };
        axum::serve(listener, router(options)).with_graceful_shutdown(stop).await
    })
}

/// Everything that is handed out: the page at `/`, the list of files at `/folder`, a file at `/folder/NAME`.
pub fn router(options: &Options) -> Router {
    let page =
        ServeDir::new(&options.page).precompressed_br().append_index_html_on_directories(true);
    let always = |name: HeaderName, value: &'static str| {
        SetResponseHeaderLayer::overriding(name, HeaderValue::from_static(value))
    };
    Router::new()
        .route("/folder", get(list))
        .route("/folder/{*name}", get(file))
        .with_state(Arc::new(options.jobs.clone()))
        .fallback_service(page)
        .layer(always(
            header::CONTENT_SECURITY_POLICY,
            "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob: data:; \
             style-src 'self' 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'",
        ))
        .layer(always(header::X_CONTENT_TYPE_OPTIONS, "nosniff"))
        .layer(always(header::REFERRER_POLICY, "no-referrer"))
        // The page's own worker decides what is kept; files whose names carry a hash are asked for once anyway.
        .layer(always(header::CACHE_CONTROL, "no-cache"))
}

/// Why a request is not answered; the page goes by the status.
enum Refused {
    NoSuchFile,
    Failed(io::Error),
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchFile => f.write_str("no such file in the folder"),
            Self::Failed(error) => error.fmt(f),
        }
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let status = match self {
            Self::NoSuchFile => StatusCode::NOT_FOUND,
            Self::Failed(_) => StatusCode::INTERNAL_SERVER_ERROR,
        };
        (status, format!("{self}\n")).into_response()
    }
}

async fn list(State(folder): State<Arc<PathBuf>>) -> Result<Response, Refused> {
    let list = listed(&folder).map_err(Refused::Failed)?;
    Ok(Json(list).into_response())
}

async fn file(
    State(folder): State<Arc<PathBuf>>,
    At(name): At<String>,
) -> Result<Response, Refused> {
    let path = inside(&folder, &name).ok_or(Refused::NoSuchFile)?;
    match tokio::fs::metadata(&path).await {
        Ok(about) if about.is_file() && about.len() <= LARGEST => {}
        _ => return Err(Refused::NoSuchFile),
    }
    let bytes = tokio::fs::read(&path).await.map_err(Refused::Failed)?;
    Ok(([(header::CONTENT_TYPE, "text/plain; charset=utf-8")], bytes).into_response())
}

/// Path of a file below the folder; none for a name that leads out of it or is of another kind.
fn inside(folder: &Path, name: &str) -> Option<PathBuf> {
    let below = Path::new(name);
    let stays = below.components().all(|part| matches!(part, Component::Normal(_)));
    let visible = !name.split('/').any(|part| part.starts_with('.'));
    if !(stays && visible && is_handed_out(below)) {
        return None;
    }
    // A link that leads out of the folder is not followed.
    let path = folder.join(below).canonicalize().ok()?;
    path.starts_with(folder.canonicalize().ok()?).then_some(path)
}

fn is_handed_out(path: &Path) -> bool {
    has_ending(path, "toml") || has_ending(path, "csv")
}

fn has_ending(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|found| found.eq_ignore_ascii_case(ending))
}

fn listed(folder: &Path) -> io::Result<Vec<Listed>> {
    let mut found = Vec::new();
    look(folder, "", 0, &mut found)?;
    found.sort();
    Ok(found)
}

fn look(folder: &Path, above: &str, deep: usize, found: &mut Vec<Listed>) -> io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let entry = entry?;
        let Ok(name) = entry.file_name().into_string() else { continue };
        if name.starts_with('.') {
            continue;
        }
        let kind = entry.file_type()?;
        let below = if above.is_empty() { name } else { format!("{above}/{name}") };
        if kind.is_dir() && deep < DEEPEST {
            look(&entry.path(), &below, deep + 1, found)?;
        } else if kind.is_file() && is_handed_out(Path::new(&below)) {
            let is_job = !has_ending(Path::new(&below), "csv")
                && std::fs::read_to_string(entry.path()).is_ok_and(|text| is_job(&text));
            found.push(Listed { name: below, is_job });
        }
    }
    Ok(())
}
