//! What pages hear of, as server-sent events.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::State;
use axum::response::sse::{Event as Sent, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream;
use tokio::sync::broadcast::error::RecvError;

use crate::app::App;

/// Tells what changes until the page goes away.
pub async fn events(State(app): State<Arc<App>>) -> Response {
    let events = stream::unfold(app.listen(), |mut events| async move {
        loop {
            match events.recv().await {
                Ok(event) => {
                    let sent = Sent::default().data(serde_json::to_string(&event).unwrap_or_default());
                    return Some((Ok::<_, Infallible>(sent), events));
                }
                // A page that slept asks anew for what it shows.
                Err(RecvError::Lagged(_)) => {
                    return Some((Ok(Sent::default().data("{\"what\":\"missed\"}")), events));
                }
                Err(RecvError::Closed) => return None,
            }
        }
    });
    Sse::new(events).keep_alive(KeepAlive::new().interval(Duration::from_secs(20))).into_response()
}
