//! Who is answered and who is not, over a bare socket: the rows of the security table, one test or more each.

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use common::{PROCEDURE, page, page_with, raw};
use serde_json::json;

// Row 1: this machine only, and only under the printed address.

#[test]
fn only_this_machine_is_listened_to() {
    let page = page(&[]);
    assert!(page.host.starts_with("127.0.0.1:"));
    let port: u16 = page.host.rsplit(':').next().unwrap().parse().unwrap();
    // Every address of 127/8 is this machine: the other one is free.
    assert!(std::net::TcpListener::bind(("127.0.0.2", port)).is_ok());
}

#[test]
fn another_host_is_refused_before_anything_else() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let port = page.host.rsplit(':').next().unwrap();
    let with = |hosts: &str| {
        page.raw(&format!("GET / HTTP/1.1\r\n{hosts}Cookie: {}\r\nConnection: close\r\n\r\n", page.cookie)).status
    };
    assert_eq!(with(&format!("Host: {}\r\n", page.host)), 200);
    for host in [
        String::new(),
        format!("Host: evil.example:{port}\r\n"),
        format!("Host: localhost:{port}\r\n"),
        "Host: 127.0.0.1\r\n".to_owned(),
        format!("Host: {0}\r\nHost: {0}\r\n", page.host),
        format!("Host: {}\r\nHost: evil.example\r\n", page.host),
    ] {
        let status = with(&host);
        assert!(matches!(status, 400 | 421), "{host:?} gave {status}");
    }
    let absolute = format!(
        "GET http://evil.example/ HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nConnection: close\r\n\r\n",
        page.host, page.cookie
    );
    assert_eq!(page.raw(&absolute).status, 421);
    // The rebound page of another name asks with a good cookie and key, and gets neither.
    let rebound = format!("GET /?key={} HTTP/1.1\r\nHost: evil.example:{port}\r\nConnection: close\r\n\r\n", page.key);
    let answer = page.raw(&rebound);
    assert_eq!(answer.status, 421);
    assert!(answer.header("set-cookie").is_none());
}

// Row 2: no other origin, no other method, a token for what writes.

#[test]
fn no_answer_lets_another_origin_read() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    for path in ["/", "/rows", "/static/page.js", "/nothing"] {
        let answer = page.raw(&format!(
            "GET {path} HTTP/1.1\r\nHost: {}\r\nOrigin: http://evil.example\r\nCookie: {}\r\nConnection: close\r\n\r\n",
            page.host, page.cookie
        ));
        assert!(!answer.head.to_lowercase().contains("access-control-"), "{answer:?}");
    }
    for method in ["OPTIONS", "PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "PROPFIND"] {
        let answer = page.raw(&format!(
            "{method} / HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nX-Seamwright-Token: {}\r\nCookie: {}\r\nConnection: close\r\n\r\n",
            page.token, page.cookie, host = page.host
        ));
        assert!(matches!(answer.status, 400 | 405 | 421), "{method}: {answer:?}");
        assert!(!answer.head.to_lowercase().contains("access-control-"));
    }
}

#[test]
fn writing_needs_the_origin_and_the_token_and_a_cookie_is_not_enough() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let id = page.id("a.yaml");
    let send = |headers: &str| {
        let body = "{}";
        page.raw(&format!(
            "POST /d/{id}/discard HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n{headers}Content-Length: {}\r\nConnection: close\r\n\r\n{body}",
            page.host, page.cookie, body.len()
        ))
        .status
    };
    let port: u16 = page.host.rsplit(':').next().unwrap().parse().unwrap();
    let (origin, token) =
        (format!("Origin: http://{}\r\n", page.host), format!("X-Seamwright-Token: {}\r\n", page.token));
    assert_eq!(send(&format!("{origin}{token}")), 200);
    for (what, headers) in [
        ("nothing", String::new()),
        ("the cookie with our origin", origin.clone()),
        ("the token without an origin", token.clone()),
        ("another port", format!("Origin: http://127.0.0.1:{}\r\n{token}", port.wrapping_add(1))),
        ("null", format!("Origin: null\r\n{token}")),
        ("another scheme", format!("Origin: https://{}\r\n{token}", page.host)),
        ("two origins", format!("{origin}{origin}{token}")),
        ("a wrong token", format!("{origin}X-Seamwright-Token: {}\r\n", "0".repeat(64))),
        ("two tokens", format!("{origin}{token}{token}")),
        ("another site by its own word", format!("{origin}{token}Sec-Fetch-Site: cross-site\r\n")),
        ("the same site, another port", format!("{origin}{token}Sec-Fetch-Site: same-site\r\n")),
    ] {
        assert_eq!(send(&headers), 403, "{what}");
    }
}

#[test]
fn pages_open_with_the_cookie_only_and_the_key_is_asked_for_once() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let without = |cookie: &str| {
        page.raw(&format!("GET / HTTP/1.1\r\nHost: {}\r\n{cookie}Connection: close\r\n\r\n", page.host)).status
    };
    assert_eq!(without(""), 403);
    assert_eq!(without("Cookie: seamwright=1\r\n"), 403);
    let other = page.cookie.replace("seamwright-", "seamwright-9");
    assert_eq!(without(&format!("Cookie: {other}\r\n")), 403);
    let wrong =
        page.raw(&format!("GET /?key={} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", "f".repeat(64), page.host));
    assert_eq!(wrong.status, 403);
    let right =
        page.raw(&format!("GET /?key={} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", page.key, page.host));
    assert_eq!((right.status, right.header("location").as_deref()), (303, Some("/")));
    let cookie = right.header("set-cookie").unwrap();
    for part in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert!(cookie.starts_with(&format!("seamwright-{}=", page.host.rsplit(':').next().unwrap())));
    assert!(page.token.len() == 64 && page.key.len() == 64 && page.token != page.key);
}

// Row 3: what a page may load, and that nothing is kept.

#[test]
fn every_answer_carries_the_policy() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let id = page.id("a.yaml");
    for path in ["/".to_owned(), "/rows".into(), format!("/d/{id}"), "/static/page.js".into(), "/nothing".into()] {
        let answer = page.get(&path);
        let policy = answer.header("content-security-policy").unwrap();
        for part in [
            "default-src 'none'",
            "script-src 'self';",
            "style-src 'self';",
            "frame-ancestors 'none'",
            "base-uri 'none'",
            "form-action 'self'",
            "require-trusted-types-for 'script'",
        ] {
            assert!(policy.contains(part), "{path}: {policy}");
        }
        assert!(!policy.contains("unsafe"), "{path}");
        assert_eq!(answer.header("x-content-type-options").as_deref(), Some("nosniff"));
        assert_eq!(answer.header("referrer-policy").as_deref(), Some("no-referrer"));
        assert_eq!(answer.header("cache-control").as_deref(), Some("no-store"));
    }
    let sheet = page.get(&format!("/d/{id}/frame?kind=procedure"));
    let policy = sheet.header("content-security-policy").unwrap();
    assert!(
        policy.contains("default-src 'none'")
            && !policy.contains("script-src")
            && policy.contains("frame-ancestors 'self'")
    );
}

#[test]
fn text_of_a_document_never_becomes_markup_of_the_page() {
    let hostile = "</script><script>alert(1)</script><img src=x onerror=alert(1)>";
    let text = PROCEDURE.replace("title: Lap", &format!("title: {hostile:?}"));
    let page = page(&[("a.yaml", &text)]);
    let id = page.id("a.yaml");
    for path in
        ["/".to_owned(), format!("/d/{id}"), format!("/d/{id}/frame?kind=procedure"), format!("/compare?old={hostile}")]
    {
        let body = page.get(&path.replace(['<', '>', ' '], "%3C")).body;
        assert!(!body.contains("<script>alert") && !body.contains("<img src=x"), "{path}");
    }
}

// Row 4: ids, no paths.

#[test]
fn no_path_leads_out_of_the_listed_documents() {
    let outside = tempfile::tempdir().unwrap();
    std::fs::write(outside.path().join("x.yaml"), "secret: 1\n").unwrap();
    let page =
        page(&[("a.yaml", PROCEDURE), (".hidden.yaml", "secret: 1\n"), ("deep/b.yml", PROCEDURE), ("c.txt", "secret")]);
    #[cfg(unix)]
    std::os::unix::fs::symlink(outside.path().join("x.yaml"), page.folder.join("link.yaml")).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(outside.path(), page.folder.join("linked")).unwrap();
    let rows = page.get("/rows").json();
    let mut files: Vec<&str> = rows.as_array().unwrap().iter().map(|row| row["file"].as_str().unwrap()).collect();
    files.sort_unstable();
    assert_eq!(files, ["a.yaml", "deep/b.yml"]);
    for path in [
        "/d/..%2f..%2fetc%2fpasswd",
        "/d/%2e%2e%2fa.yaml",
        "/d/a.yaml",
        "/d/link.yaml/state",
        "/static/..%2f..%2fCargo.toml",
        "/static/../page.js/../../x",
        "/d/..%2fetc%2fpasswd/state",
        "/d/%00/state",
    ] {
        let answer = page.get(path);
        assert!(matches!(answer.status, 400 | 404), "{path}: {}", answer.status);
        assert!(!answer.body.contains("root:") && !answer.body.contains("secret"), "{path}");
    }
    for name in ["../out", "deep/new", "/tmp/new", ".hidden", "a", "con\u{7}"] {
        let answer = page.post("/new/keep", &json!({"name": name, "text": PROCEDURE}));
        assert_eq!(answer.status, 422, "{name}: {answer:?}");
    }
    assert_eq!(
        std::fs::read_dir(&page.folder).unwrap().filter(|own| own.as_ref().unwrap().file_name() == "out.yaml").count(),
        0
    );
}

#[test]
fn a_document_of_over_1_mib_and_a_file_of_over_16_mib_are_refused_in_words() {
    let long = format!("{PROCEDURE}notes: [{}]\n", "\"x\",".repeat(300_000));
    let page = page(&[("long.yaml", &long)]);
    let answer = page.get(&format!("/d/{}", page.id("long.yaml")));
    assert_eq!(answer.status, 413);
    assert!(answer.body.contains("1 MiB"));
    let dropped = "x".repeat(16 << 20);
    assert_eq!(page.post_with("/arrived", &dropped, "X-File-Name: rubbish.pdf\r\n").status, 200);
    let over = page.post_with("/arrived", &format!("{dropped}x"), "X-File-Name: rubbish.pdf\r\n");
    assert!(over.status == 413 || over.status == 0, "{over:?}");
    let rubbish = page.get("/arrived/1");
    assert_eq!(rubbish.status, 200);
    assert!(rubbish.body.contains("Not proved"), "{}", rubbish.body);
    // Nothing of it was written.
    assert!(
        std::fs::read_dir(&page.folder).unwrap().all(|own| !own
            .unwrap()
            .file_name()
            .to_string_lossy()
            .contains("rubbish"))
    );
}

// Row 5: nobody's work is lost.

#[test]
fn a_save_says_which_version_it_is_made_from() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let id = page.id("a.yaml");
    let text = PROCEDURE.replace("Lap", "Tee");
    let edited = page.edit(&id, &json!([{"op": "text", "text": text}]));
    let (of, base) = (edited["live"]["digest"].as_str().unwrap(), edited["base"].as_str().unwrap());
    let without = page.post(&format!("/d/{id}/save"), &json!({"of": of}));
    assert_eq!(without.status, 428);
    assert_eq!(page.save(&id, of, &"0".repeat(64)).status, 412);
    assert_eq!(std::fs::read_to_string(page.folder.join("a.yaml")).unwrap(), PROCEDURE);
    // An editor writes meanwhile.
    let theirs = PROCEDURE.replace("Lap", "Butt");
    std::fs::write(page.folder.join("a.yaml"), &theirs).unwrap();
    let refused = page.save(&id, of, base);
    assert_eq!(refused.status, 412);
    assert_eq!(std::fs::read_to_string(page.folder.join("a.yaml")).unwrap(), theirs);
    let now = refused.json()["now"].as_str().unwrap().to_owned();
    // Having seen both, the writer saves over it; theirs is kept among the versions before.
    let saved = page.save(&id, of, &now);
    assert_eq!(saved.status, 200, "{saved:?}");
    assert_eq!(saved.header("etag").unwrap().trim_matches('"'), saved.json()["base"].as_str().unwrap());
    assert_eq!(std::fs::read_to_string(page.folder.join("a.yaml")).unwrap(), text);
    let versions = page.get(&format!("/d/{id}/versions")).json();
    let names = versions.as_array().unwrap().iter().map(|version| version["name"].as_str().unwrap());
    let kept: Vec<String> = names.map(|name| page.get(&format!("/d/{id}/versions/{name}")).body).collect();
    assert_eq!(kept, [text, theirs]);
}

#[test]
fn a_folder_that_is_open_for_reading_is_not_written_to() {
    let page = page_with(&[("a.yaml", PROCEDURE)], |options| options.read_only = true);
    let id = page.id("a.yaml");
    let state = page.state(&id);
    let body =
        json!({"of": state["live"]["digest"], "base": state["base"], "n": 1, "ops": [{"op": "text", "text": "x"}]});
    assert_eq!(page.post(&format!("/d/{id}/edit"), &body).status, 403);
    assert_eq!(page.post("/new/keep", &json!({"name": "b", "text": PROCEDURE})).status, 403);
    assert!(!page.folder.join(".seamwright").exists());
}

// Row 6: what others change is seen.

#[test]
fn a_change_by_another_program_is_told() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let id = page.id("a.yaml");
    let mut stream = TcpStream::connect(&page.host).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(10))).unwrap();
    write!(stream, "GET /events HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n\r\n", page.host, page.cookie).unwrap();
    std::thread::sleep(Duration::from_millis(1200));
    std::fs::write(page.folder.join("a.yaml"), PROCEDURE.replace("Lap", "Longer")).unwrap();
    let begun = Instant::now();
    let mut heard = String::new();
    let mut part = [0; 4096];
    while !heard.contains("\"changed\"") && begun.elapsed() < Duration::from_secs(8) {
        let count = stream.read(&mut part).unwrap_or(0);
        heard.push_str(&String::from_utf8_lossy(&part[..count]));
    }
    assert!(heard.contains(&id) && heard.contains("\"what\":\"changed\""), "{heard}");
    assert_eq!(page.state(&id)["title"], "Longer");
}

// Row 7: limits.

#[test]
fn a_head_that_does_not_end_is_let_go_and_others_are_answered_meanwhile() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let mut slow: Vec<TcpStream> = (0..40)
        .map(|_| {
            let mut stream = TcpStream::connect(&page.host).unwrap();
            stream.write_all(b"GET / HTTP/1.1\r\nHost: ").unwrap();
            stream
        })
        .collect();
    assert_eq!(page.get("/").status, 200);
    let begun = Instant::now();
    for stream in &mut slow {
        stream.set_read_timeout(Some(Duration::from_secs(15))).unwrap();
        let mut rest = Vec::new();
        let _ = stream.read_to_end(&mut rest);
    }
    let took = begun.elapsed();
    assert!(took < Duration::from_secs(14), "{took:?}");
}

#[test]
fn more_connections_than_there_may_be_wait_and_are_then_answered() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let open: Vec<TcpStream> = (0..100).map(|_| TcpStream::connect(&page.host).unwrap()).collect();
    std::thread::sleep(Duration::from_millis(200));
    drop(open);
    assert_eq!(page.get("/").status, 200);
}

#[test]
fn a_head_of_over_64_kib_and_half_a_body_are_refused() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let long = page.raw(&format!("GET / HTTP/1.1\r\nHost: {}\r\nX: {}\r\n\r\n", page.host, "x".repeat(200_000)));
    assert!(matches!(long.status, 0 | 400 | 431), "{}", long.status);
    let told = page.post_with("/d/x/edit", "", "X: y\r\n");
    assert_eq!(told.status, 400, "{told:?}");
    let huge = page.raw(&format!(
        "POST /d/x/edit HTTP/1.1\r\nHost: {h}\r\nOrigin: http://{h}\r\nX-Seamwright-Token: {}\r\nContent-Length: 99999999\r\nConnection: close\r\n\r\n",
        page.token, h = page.host
    ));
    assert_eq!(huge.status, 413);
    assert_eq!(page.get("/").status, 200);
}

#[test]
fn rubbish_ends_its_own_connection_only() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let mut seed = 0x2545_f491_4f6c_dd1d_u64;
    for _ in 0..200 {
        let bytes: Vec<u8> = (0..64)
            .map(|_| {
                seed ^= seed << 13;
                seed ^= seed >> 7;
                seed ^= seed << 17;
                (seed & 0xff) as u8
            })
            .chain(*b"\r\n\r\n")
            .collect();
        let mut stream = TcpStream::connect(&page.host).unwrap();
        let _ = stream.write_all(&bytes);
    }
    assert_eq!(page.get("/").status, 200);
}

// Row 8: the bench shows and writes nothing, under its own address and token.

#[test]
fn the_bench_shows_cards_under_its_own_token_only() {
    let card =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../procedures/lap-fillet-2-carbon-141.yaml"))
            .unwrap();
    let page = page_with(&[("a.yaml", &card)], |options| options.lan = true);
    let id = page.id("a.yaml");
    let bench = page.bench.clone().unwrap();
    let (host, token) = bench.strip_prefix("http://").unwrap().trim_end_matches('/').split_once('/').unwrap();
    assert!(token.len() == 64 && token != page.token && token != page.key);
    let ask = |request: &str, named: &str| {
        raw(host, format!("{request} HTTP/1.1\r\nHost: {named}\r\nConnection: close\r\n\r\n").as_bytes())
    };
    let list = ask(&format!("GET /{token}/"), host);
    assert!(list.status == 200 && list.body.contains("P-001"), "{list:?}");
    let shown = ask(&format!("GET /{token}/card/{id}?units=us"), host);
    assert!(shown.status == 200 && shown.body.contains("P-001"), "{}", shown.status);
    assert_eq!(ask(&format!("GET /{}/", "0".repeat(64)), host).status, 403);
    assert_eq!(ask(&format!("GET /{token}/"), "evil.example").status, 421);
    assert_eq!(ask(&format!("POST /{token}/"), host).status, 405);
    for path in [
        format!("/{token}/d/{id}"),
        format!("/{token}/rows"),
        "/".into(),
        "/rows".into(),
        "/events".into(),
        format!("/d/{id}/state"),
    ] {
        let status = ask(&format!("GET {path}"), host).status;
        assert!(matches!(status, 403 | 404), "{path}: {status}");
    }
    // The page itself is not to be had at the bench's address, nor the other way round.
    assert_eq!(page.get(&format!("/{token}/")).status, 404);
}

/// The pixels of a drawing of square modules, as a camera sees them: eight to a module, dark where 0.
fn seen(page: &str) -> (usize, Vec<u8>) {
    const SCALE: usize = 8;
    let code = page.split("class=\"code\"").nth(1).unwrap();
    let own = |before: &str| code.split(before).nth(1).unwrap().split('"').next().unwrap();
    let side: usize = own("viewBox=\"0 0 ").split(' ').next().unwrap().parse().unwrap();
    let mut pixels = vec![255; side * SCALE * side * SCALE];
    for module in own("<path d=\"").split('M').filter(|own| !own.is_empty()) {
        let (x, y) = module.strip_suffix("h1v1h-1z").unwrap().split_once(' ').unwrap();
        let (x, y): (usize, usize) = (x.parse().unwrap(), y.parse().unwrap());
        for row in y * SCALE..(y + 1) * SCALE {
            let start = row * side * SCALE + x * SCALE;
            pixels[start..start + SCALE].fill(0);
        }
    }
    (side * SCALE, pixels)
}

#[test]
fn the_code_is_read_as_the_address_of_the_cards() {
    let page = page_with(&[("a.yaml", common::PROCEDURE)], |options| options.lan = true);
    let (side, pixels) = seen(&page.get("/bench").body);
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| pixels[y * side + x]);
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1);
    assert_eq!(grids[0].decode().unwrap().1, page.bench.clone().unwrap());
}
