//! Connections, their number and their times.

use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::{Request, State};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;

use crate::app::App;
use crate::guard::{Guard, dressed};
use crate::listing::listing;
use crate::trouble::ServeError;
use crate::{Options, routes, watch};

/// Most connections at once.
pub const CONNECTIONS: usize = 64;
/// How long the head of a request may take.
const HEADERS: Duration = Duration::from_secs(10);
/// How many threads work, beside the one that answers.
const WORKERS: usize = 8;

/// A page that is ready to be opened.
pub struct Running {
    app: Arc<App>,
    runtime: tokio::runtime::Runtime,
    listener: TcpListener,
    lan: Option<(TcpListener, Arc<routes::bench::Lan>)>,
}

/// Reads the folder and takes the port; [`Running::serve`] answers from then on.
pub fn start(options: &Options) -> Result<Running, ServeError> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_io()
        .enable_time()
        .max_blocking_threads(WORKERS)
        .build()?;
    let inside = runtime.enter();
    let own = |port| bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    // A page that is still open finds the program again under its address.
    let before = crate::store::kept_port(&options.folder).filter(|_| options.port == 0);
    let listener = before.and_then(|port| own(port).ok()).map_or_else(|| own(options.port), Ok)?;
    let address = listener.local_addr()?;
    let app = Arc::new(App::new(options, Guard::new(address.to_string())?)?);
    if options.port == 0 {
        app.store.has_port(address.port());
    }
    let lan = if options.lan {
        let address = routes::bench::own_address().unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST));
        let listener = bind(SocketAddr::from((address, 0)))?;
        let lan = routes::bench::Lan::new(listener.local_addr()?.to_string())?;
        Some((listener, Arc::new(lan)))
    } else {
        None
    };
    drop(inside);
    Ok(Running { app, runtime, listener, lan })
}

fn bind(address: SocketAddr) -> Result<TcpListener, ServeError> {
    let listener = std::net::TcpListener::bind(address).map_err(|error| match error.kind() {
        io::ErrorKind::AddrInUse => ServeError::PortInUse(address.port()),
        _ => ServeError::Io(error),
    })?;
    listener.set_nonblocking(true)?;
    Ok(TcpListener::from_std(listener)?)
}

impl Running {
    /// The address that opens the page in a browser of this machine.
    pub fn address(&self) -> String {
        self.app.guard.address()
    }

    /// The address of the cards for a telephone in the same network.
    pub fn bench_address(&self) -> Option<String> {
        self.lan.as_ref().map(|(_, lan)| lan.address())
    }

    /// Answers until the program is ended.
    pub fn serve(self) -> Result<(), ServeError> {
        let Self { app, runtime, listener, lan } = self;
        app.set_bench_address(lan.as_ref().map(|(_, lan)| lan.address()));
        watch::start(Arc::clone(&app));
        runtime.block_on(async move {
            // Whoever opens the page next finds its documents judged already.
            let ahead = Arc::clone(&app);
            tokio::task::spawn_blocking(move || listing(&ahead).map(drop));
            let open = Arc::new(Semaphore::new(CONNECTIONS));
            if let Some((listener, lan)) = lan {
                let router = routes::bench::router(Arc::clone(&app), lan);
                tokio::spawn(accept(listener, router, Arc::clone(&open)));
            }
            let router = routes::router(Arc::clone(&app)).layer(from_fn_with_state(app, guarded));
            tokio::select! {
                () = accept(listener, router, open) => {}
                _ = tokio::signal::ctrl_c() => {}
            }
        });
        // A check that still runs holds no file open for writing: nothing is lost by not waiting for it.
        runtime.shutdown_timeout(Duration::from_millis(200));
        Ok(())
    }
}

async fn guarded(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    match app.guard.check(request).await {
        Ok(request) => dressed(next.run(request).await.into_response()),
        Err(answer) => answer,
    }
}

/// Takes connections, at most as many at once as there are permits; the others wait.
async fn accept(listener: TcpListener, router: Router, open: Arc<Semaphore>) {
    loop {
        let Ok(permit) = Arc::clone(&open).acquire_owned().await else { return };
        let Ok((stream, _)) = listener.accept().await else {
            // No more files may be open: some will be closed soon.
            tokio::time::sleep(Duration::from_millis(50)).await;
            continue;
        };
        let _ = stream.set_nodelay(true);
        let service = TowerToHyperService::new(router.clone());
        tokio::spawn(async move {
            let connection = hyper::server::conn::http1::Builder::new()
                .timer(TokioTimer::new())
                .header_read_timeout(HEADERS)
                .max_buf_size(64 << 10)
                .serve_connection(TokioIo::new(stream), service);
            // A browser that goes away is no fault.
            let _ = connection.await;
            drop(permit);
        });
    }
}
