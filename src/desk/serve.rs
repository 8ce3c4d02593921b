//! The server on the loopback address: who is slow is let go, who sends too much is refused.

use std::convert::Infallible;
use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use http_body_util::{BodyExt, Full, Limited};
use hyper::body::{Bytes, Incoming};
use hyper::header::{CONTENT_LENGTH, CONTENT_TYPE, HOST, ORIGIN};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{HeaderMap, Method, Response, StatusCode};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::timeout;

use crate::bench::Halt;
use crate::desk::guard::{Guard, Said};
use crate::desk::refused::Refused;
use crate::desk::route::{Desk, HEADERS, Reply, Request, refusal};

/// Largest body of a request: as large as a layup's file may be.
const BODY_MOST: usize = 1 << 20;
/// Connections at a time; further ones wait.
const CONNECTIONS_MOST: usize = 256;
/// Answers computed at a time; further ones wait, and one whose asker is gone is not begun.
const ANSWERS_MOST: usize = 2;
/// Time that a request's head, and then its body, may take to come.
const SLOW: Duration = Duration::from_secs(5);
/// Time after which a connection takes no further request; a browser opens another.
const CONNECTION: Duration = Duration::from_secs(120);
/// Time that is left for what it then still sends.
const LAST: Duration = Duration::from_secs(10);
/// How often the server looks whether it is to end.
const LOOK: Duration = Duration::from_millis(50);

/// A port of the loopback address, held but not yet served.
#[derive(Debug)]
pub struct Held {
    listener: std::net::TcpListener,
    token: String,
    port: u16,
}

impl Held {
    /// Takes the port, or a free one for 0, with a new token.
    ///
    /// Errors: what the system says, such as a port that is in use.
    pub fn take(port: u16) -> io::Result<Held> {
        let listener = std::net::TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)))?;
        let port = listener.local_addr()?.port();
        let mut bytes = [0; 16];
        getrandom::fill(&mut bytes).map_err(|error| io::Error::other(error.to_string()))?;
        let token = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Held { listener, token, port })
    }

    /// The address of the page.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/{}/", self.port, self.token)
    }

    /// Who may ask.
    pub fn guard(&self) -> Guard {
        Guard::new(self.port, self.token.clone())
    }

    /// Serves until `is_over` says so, which is asked several times a second.
    ///
    /// Errors: what the system says when the server cannot begin.
    pub fn serve(self, desk: Desk, is_over: impl Fn() -> bool) -> io::Result<()> {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
        self.listener.set_nonblocking(true)?;
        runtime.block_on(async {
            let listener = TcpListener::from_std(self.listener)?;
            accept(&listener, Arc::new(desk), is_over).await;
            Ok::<(), io::Error>(())
        })?;
        // an answer that is being computed is of no use to anybody
        runtime.shutdown_background();
        Ok(())
    }
}

/// Lets clients in until it is over.
async fn accept(listener: &TcpListener, desk: Arc<Desk>, is_over: impl Fn() -> bool) {
    let connections = Arc::new(Semaphore::new(CONNECTIONS_MOST));
    let answers = Arc::new(Semaphore::new(ANSWERS_MOST));
    while !is_over() {
        let Ok(Ok(place)) = timeout(LOOK, connections.clone().acquire_owned()).await else {
            continue;
        };
        match timeout(LOOK, listener.accept()).await {
            Ok(Ok((stream, _))) => {
                let shared = (desk.clone(), answers.clone());
                tokio::spawn(connection(stream, shared, place));
            }
            // too many files are open: some will be closed
            Ok(Err(_)) => tokio::time::sleep(LOOK).await,
            Err(_) => {}
        }
    }
}

/// One connection from its first to its last request.
async fn connection(
    stream: TcpStream,
    (desk, answers): (Arc<Desk>, Arc<Semaphore>),
    _place: OwnedSemaphorePermit,
) {
    let _ = stream.set_nodelay(true);
    let service = service_fn(move |request| {
        let (desk, answers) = (desk.clone(), answers.clone());
        async move { Ok::<_, Infallible>(served(request, desk, answers).await) }
    });
    let served = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(SLOW)
        .max_buf_size(64 * 1024)
        .serve_connection(TokioIo::new(stream), service);
    let mut served = std::pin::pin!(served);
    if timeout(CONNECTION, served.as_mut()).await.is_err() {
        served.as_mut().graceful_shutdown();
        // who still does not read is let go
        let _ = timeout(LAST, served).await;
    }
}

/// The reply to one request, its body read within bounds of size and time.
async fn served(
    request: hyper::Request<Incoming>,
    desk: Arc<Desk>,
    answers: Arc<Semaphore>,
) -> Response<Full<Bytes>> {
    let (head, body) = request.into_parts();
    let is_head = head.method == Method::HEAD;
    let own = Own::of(&head.headers, head.method.as_str(), head.uri.path());
    // who may not ask is not listened to
    let (reply, closes) = match desk.admit(&own.request(&[])) {
        Err(refused) => (refusal(&refused), true),
        Ok(()) => match read(&head.headers, body).await {
            Err(refused) => (refusal(&refused), true),
            Ok(body) => (computed(own, body, desk, answers).await, false),
        },
    };
    response(reply, is_head, closes)
}

/// The reply, computed beside the server's own thread.
async fn computed(own: Own, body: Bytes, desk: Arc<Desk>, answers: Arc<Semaphore>) -> Reply {
    let gone = || refusal(&Refused::new(503, "the desk is closing", "", ""));
    if own.method != "POST" {
        return desk.reply(&own.request(&body), &Halt::default());
    }
    let Ok(place) = answers.acquire_owned().await else { return gone() };
    let work = move |halt: &Halt| {
        let reply = desk.reply(&own.request(&body), halt);
        drop(place);
        reply
    };
    beside(work).await.unwrap_or_else(gone)
}

/// Does work beside the server's own thread; called off when who asked for it goes away.
async fn beside<T: Send + 'static>(work: impl FnOnce(&Halt) -> T + Send + 'static) -> Option<T> {
    /// Who asked; a connection that ends takes it along.
    struct Asker(Halt);
    impl Drop for Asker {
        fn drop(&mut self) {
            self.0.call();
        }
    }
    let asker = Asker(Halt::default());
    let halt = asker.0.clone();
    tokio::task::spawn_blocking(move || work(&halt)).await.ok()
}

/// The body of a request.
///
/// Errors: one that is too large, too slow, or broken off.
async fn read(headers: &HeaderMap, body: Incoming) -> Result<Bytes, Refused> {
    let too_large =
        || Refused::new(413, "the request is too large", "at most 1 MiB", "leave something out");
    let told =
        headers.get(CONTENT_LENGTH).and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
    if told.is_some_and(|length| length > BODY_MOST as u64) {
        return Err(too_large());
    }
    match timeout(SLOW, Limited::new(body, BODY_MOST).collect()).await {
        Ok(Ok(whole)) => Ok(whole.to_bytes()),
        Ok(Err(error)) if error.is::<http_body_util::LengthLimitError>() => Err(too_large()),
        Ok(Err(_)) => Err(Refused::new(400, "the request was broken off", "", "")),
        Err(_) => Err(Refused::new(408, "the request took too long to come", "", "")),
    }
}

fn response(reply: Reply, is_head: bool, closes: bool) -> Response<Full<Bytes>> {
    let status = StatusCode::from_u16(reply.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let mut builder = Response::builder().status(status).header(CONTENT_TYPE, reply.kind);
    for (name, value) in HEADERS {
        builder = builder.header(name, value);
    }
    if closes {
        builder = builder.header("connection", "close");
    }
    let body = if is_head { Bytes::new() } else { Bytes::from(reply.body) };
    // names and values are ours, and well-formed
    builder.body(Full::new(body)).unwrap_or_default()
}

/// What a request says, apart from its body.
struct Own {
    method: String,
    path: String,
    kind: Option<String>,
    host: Option<String>,
    origin: Option<String>,
    site: Option<String>,
}

impl Own {
    fn of(headers: &HeaderMap, method: &str, path: &str) -> Own {
        // a header that is no text, or there twice, says something that is not ours
        let text = |name: &str| {
            let mut all = headers.get_all(name).iter();
            let first = all.next()?;
            Some(match (first.to_str(), all.next()) {
                (Ok(text), None) => text.to_owned(),
                _ => String::new(),
            })
        };
        Own {
            method: method.to_owned(),
            path: path.to_owned(),
            kind: text(CONTENT_TYPE.as_str()),
            host: text(HOST.as_str()),
            origin: text(ORIGIN.as_str()),
            site: text("sec-fetch-site"),
        }
    }

    fn request<'a>(&'a self, body: &'a [u8]) -> Request<'a> {
        let said = Said {
            host: self.host.as_deref(),
            origin: self.origin.as_deref(),
            site: self.site.as_deref(),
        };
        let (method, path, kind) = (self.method.as_str(), self.path.as_str(), self.kind.as_deref());
        Request { method, path, kind, said, body }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    /// Source: what a browser does that has a newer question: it closes the connection.
    #[test]
    fn a_run_ends_when_its_asker_goes_away() {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        let (began, begins) = channel();
        let (ended, ends) = channel();
        let work = move |halt: &Halt| {
            began.send(()).unwrap();
            while !halt.is_called() {
                std::thread::yield_now();
            }
            ended.send(()).unwrap();
        };
        runtime.block_on(async {
            let asked = tokio::spawn(beside(work));
            while begins.try_recv().is_err() {
                tokio::task::yield_now().await;
            }
            assert!(ends.try_recv().is_err());
            asked.abort();
            assert!(asked.await.unwrap_err().is_cancelled());
        });
        ends.recv_timeout(Duration::from_secs(60)).expect("the run ends");
    }
}
