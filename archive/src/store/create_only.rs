//! A gate for requests: every write asks that nothing lie there yet, also the one that ends an upload in pieces.

use std::pin::Pin;

use object_store::ClientOptions;
use object_store::client::{
    HttpClient, HttpConnector, HttpError, HttpRequest, HttpResponse, HttpService, ReqwestConnector,
};

/// Connects as the crate does, and looks at what is sent.
#[derive(Debug)]
pub(super) struct CreateOnly;

/// What is sent goes through here.
#[derive(Debug)]
struct Gate(HttpClient);

/// Whoever writes where something lies is refused by the server (RFC 9110, section 13.1.2).
const HEADER: &str = "if-none-match";

impl HttpConnector for CreateOnly {
    fn connect(&self, options: &ClientOptions) -> object_store::Result<HttpClient> {
        Ok(HttpClient::new(Gate(ReqwestConnector::default().connect(options)?)))
    }
}

/// The request that puts the pieces of an upload together: the crate's own call would replace what lies there.
fn ends_an_upload(request: &HttpRequest) -> bool {
    request.method().as_str() == "POST"
        && request.uri().query().is_some_and(|q| q.split('&').any(|part| part.starts_with("uploadId=")))
}

type Answer<'a> = Pin<Box<dyn Future<Output = Result<HttpResponse, HttpError>> + Send + 'a>>;

impl HttpService for Gate {
    fn call<'a, 'b>(&'a self, mut request: HttpRequest) -> Answer<'b>
    where
        'a: 'b,
        Self: 'b,
    {
        if ends_an_upload(&request)
            && let Ok(any) = "*".parse()
        {
            request.headers_mut().insert(HEADER, any);
        }
        Box::pin(async move { self.0.execute(request).await })
    }
}
