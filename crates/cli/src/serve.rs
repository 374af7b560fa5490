//! `serve`: the page and the job files of a folder, to this machine.

use std::io::Write;

use dewpath_server::Options;

use crate::args::Serve;
use crate::files::{Trouble, reason};

pub(crate) fn serve(serve: &Serve) -> Result<(), Trouble> {
    let (page, jobs) = (serve.page.clone(), serve.jobs.clone());
    let options = Options { page, jobs, address: serve.address, port: serve.port };
    let said = dewpath_server::serve(&options, |address| {
        let _ = writeln!(anstream::stdout(), "The page is at http://{address}/ (stop with Ctrl-C)");
    });
    said.map_err(|error| Trouble::Other {
        message: format!("the page cannot be handed out: {}", reason(&error)),
        hint: format!(
            "is `{}` the built page (`cargo xtask page`) and `{}` the folder of jobs? Another port: --port 0",
            serve.page.display(),
            serve.jobs.display()
        ),
    })
}
