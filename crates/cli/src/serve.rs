//! `serve`: the page and the job files of a folder, to this machine.

use std::io::Write;

use dewpath_message::slot::Reference;
use dewpath_server::Options;
use dewpath_words::Speaker;

use crate::args::Serve;
use crate::files::{Trouble, name, reason};
use crate::say::serving::{PageAt, PageFolders, PageNotHandedOut};

pub(crate) fn serve(serve: &Serve, speaker: &Speaker) -> Result<(), Trouble> {
    let (page, jobs) = (serve.page.clone(), serve.jobs.clone());
    let options = Options { page, jobs, address: serve.address, port: serve.port };
    let said = dewpath_server::serve(&options, |address| {
        let at = PageAt { address: Reference::new(address.to_string()) };
        let _ = writeln!(anstream::stdout(), "{}", speaker.message(&at.into()));
    });
    said.map_err(|error| Trouble::Other {
        message: PageNotHandedOut { why: reason(&error) }.into(),
        hint: PageFolders { page: name(&serve.page), jobs: name(&serve.jobs) }.into(),
    })
}
