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
        let sent = match events.recv().await {
            Ok(event) => Sent::default().data(serde_json::to_string(&event).unwrap_or_default()),
            // A page that slept asks anew for what it shows.
            Err(RecvError::Lagged(_)) => Sent::default().data("{\"what\":\"missed\"}"),
            Err(RecvError::Closed) => return None,
        };
        Some((Ok::<_, Infallible>(sent), events))
    });
    Sse::new(events).keep_alive(KeepAlive::new().interval(Duration::from_secs(20))).into_response()
}
