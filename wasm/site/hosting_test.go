package main

import (
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/site/static"
)

// recipe is a block of HOSTING.md, by its language and its name.
func recipe(t *testing.T, which string) string {
	t.Helper()
	text, err := os.ReadFile("HOSTING.md")
	td.Require(t).CmpNoError(err)
	_, block, found := strings.Cut(string(text), "```"+which+"\n")
	block, _, _ = strings.Cut(block, "```")
	td.Require(t).True(found, "HOSTING.md has %s", which)
	return block
}

// small is the page around a core of eight bytes, served by ourselves and written as a folder.
func small(t *testing.T) (site *static.Site, url, folder string) {
	t.Helper()
	root, err := moduleRoot()
	td.Require(t).CmpNoError(err)
	site, err = buildAround([]byte("\x00asm\x01\x00\x00\x00"), root)
	td.Require(t).CmpNoError(err)
	site.Compress(static.Quick)
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	folder = filepath.Join(t.TempDir(), "whorl")
	td.Require(t).CmpNoError(site.Write(folder))
	// nginx reads it as another user.
	for dir := folder; len(dir) > len(os.TempDir()); dir = filepath.Dir(dir) {
		td.Require(t).CmpNoError(os.Chmod(dir, 0o755))
	}
	return site, server.URL, folder
}

// hosts are the servers of others, and how each is started on a recipe, at an address of this machine.
var hosts = map[string]func(t *testing.T, block, addr string) *exec.Cmd{
	"caddyfile": func(t *testing.T, block, addr string) *exec.Cmd {
		file := laid(t, "Caddyfile", []byte("{\n\tadmin off\n\tauto_https off\n}\n"+strings.ReplaceAll(block, "horses.example.org", "http://"+addr)))
		return exec.Command("caddy", "run", "--adapter", "caddyfile", "--config", file)
	},
	"nginx": func(t *testing.T, block, addr string) *exec.Cmd {
		dir := t.TempDir()
		block = strings.ReplaceAll(block, "listen 443", "listen "+addr)
		text := "daemon off;\nmaster_process off;\npid " + dir + "/pid;\nerror_log stderr;\nevents {}\nhttp {\naccess_log off;\n" +
			"client_body_temp_path " + dir + "/1; proxy_temp_path " + dir + "/2; fastcgi_temp_path " + dir + "/3; uwsgi_temp_path " + dir + "/4; scgi_temp_path " + dir + "/5;\n" + block + "}\n"
		return exec.Command("nginx", "-e", "stderr", "-p", dir, "-c", laid(t, "nginx.conf", []byte(text)))
	},
}

// hostCommand is the command of each.
var hostCommand = map[string]string{"caddyfile": "caddy", "nginx": "nginx"}

// hosted starts a server of others on a recipe until the test ends, and gives its address.
func hosted(t *testing.T, kind, name, behind, folder string) string {
	t.Helper()
	block := strings.NewReplacer("http://127.0.0.1:8020", behind, "127.0.0.1:8020", strings.TrimPrefix(behind, "http://"), "/srv/whorl", folder).Replace(recipe(t, kind+" "+name))
	free, err := net.Listen("tcp", "127.0.0.1:0")
	td.Require(t).CmpNoError(err)
	addr := free.Addr().String()
	free.Close()
	cmd := hosts[kind](t, block, addr)
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "XDG_CONFIG_HOME=", "XDG_DATA_HOME=")
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	td.Require(t).CmpNoError(cmd.Start())
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
		if t.Failed() {
			t.Log(said.String())
		}
	})
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		if c, err := net.Dial("tcp", addr); err == nil {
			c.Close()
			return "http://" + addr
		}
		td.Require(t).True(time.Now().Before(end), "%s listens", kind)
	}
}

// answered is what a host says of a file: the headers that matter, the same in the form of each host.
func answered(t *testing.T, url, takes string) (status int, heads map[string]string) {
	t.Helper()
	r, err := http.NewRequest("GET", url, nil)
	td.Require(t).CmpNoError(err)
	r.Header.Set("Accept-Encoding", takes)
	answer, err := http.DefaultTransport.RoundTrip(r)
	td.Require(t).CmpNoError(err)
	io.Copy(io.Discard, answer.Body)
	answer.Body.Close()
	heads = map[string]string{}
	for _, name := range []string{"Content-Type", "Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "Cache-Control", "Content-Encoding"} {
		heads[name] = strings.ToLower(strings.Join(answer.Header.Values(name), " AND "))
	}
	heads["Content-Type"] = strings.ReplaceAll(heads["Content-Type"], "application/javascript", "text/javascript")
	return answer.StatusCode, heads
}

// same holds that another host answers for every file of the page as ours does.
func same(t *testing.T, site *static.Site, ours, theirs, takes string) {
	t.Helper()
	for _, name := range append(slices.Sorted(maps.Keys(site.Files)), "") {
		wantStatus, want := answered(t, ours+"/"+name, takes)
		status, got := answered(t, theirs+"/"+name, takes)
		td.Cmp(t, status, wantStatus, "%q", name)
		td.Cmp(t, got, want, "%q", name)
	}
	status, _ := answered(t, theirs+"/no-such-file", takes)
	td.Cmp(t, status, 404)
}

// Each recipe of HOSTING.md gives every file the headers that our own server gives.
func TestHosting(t *testing.T) {
	t.Parallel()
	site, ours, folder := small(t)
	for _, kind := range slices.Sorted(maps.Keys(hosts)) {
		t.Run(kind, func(t *testing.T) {
			if _, err := exec.LookPath(hostCommand[kind]); err != nil {
				t.Skipf("no %s here (Debian: apt-get install caddy nginx-light): its recipes were not tried", hostCommand[kind])
			}
			same(t, site, ours, hosted(t, kind, "proxy", ours, folder), "br")
			path := hosted(t, kind, "path", ours, folder)
			same(t, site, ours, path+"/exam", "br")
			status, _ := answered(t, path+"/exam", "br")
			td.Cmp(t, status, td.Any(301, 302))
			// Only brotli is not every host's; gzip is.
			same(t, site, ours, hosted(t, kind, "folder", ours, folder), "gzip")
		})
	}
}

// The file _headers, read by its rules, says the same.
func TestHostingByHeadersFile(t *testing.T) {
	t.Parallel()
	site, ours, folder := small(t)
	text, err := os.ReadFile(filepath.Join(folder, "_headers"))
	td.Require(t).CmpNoError(err)
	rules, at := map[string][][2]string{}, ""
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSuffix(line, "\n")
		if set, in := strings.CutPrefix(line, "  "); in {
			name, value, _ := strings.Cut(set, ": ")
			rules[at] = append(rules[at], [2]string{name, value})
			td.Cmp(t, len(line) < 2000, true, "hosts read no longer line")
		} else {
			at = line
		}
	}
	td.Cmp(t, len(rules), td.Between(10, 100), "hosts read no more than a hundred rules")
	host := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for _, h := range append(rules["/*"], rules[r.URL.Path]...) {
			w.Header().Add(h[0], h[1])
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			w.Header().Set("Content-Type", "text/html; charset=utf-8") // the folder's index is the host's own doing
			name = "index.html"
		}
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			w.WriteHeader(404)
			return
		}
		w.Write(data)
	}))
	t.Cleanup(host.Close)
	same(t, site, ours, host.URL, "identity")
}

// Where no headers can be set, the policy in the page still lets nothing out; but another site can frame the page, which
// our headers forbid. The table in HOSTING.md says so.
func TestChromiumHostingWithoutHeaders(t *testing.T) {
	t.Parallel()
	site, _, folder := small(t)
	for name, host := range map[string]struct {
		http.Handler
		framed bool
	}{"ours": {site, false}, "bare": {http.FileServer(http.Dir(folder)), true}} {
		t.Run(name, func(t *testing.T) {
			var styled atomic.Int32 // who is shown the page asks for its style
			page := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if strings.HasSuffix(r.URL.Path, ".css") {
					styled.Add(1)
				}
				host.ServeHTTP(w, r)
			}))
			t.Cleanup(page.Close)
			var asked atomic.Int32
			elsewhere := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				switch r.URL.Path {
				case "/":
					w.Header().Set("Content-Type", "text/html")
					fmt.Fprintf(w, "<!doctype html><title>Frame</title><iframe src=%q width=300 height=500 onload='document.title = 1'></iframe>", page.URL)
				case "/leak":
					asked.Add(1)
					w.Header().Set("Access-Control-Allow-Origin", "*")
				}
			}))
			t.Cleanup(elsewhere.Close)
			p := newPhone(t, browser(t), elsewhere.URL)
			p.until("document.title === '1'")
			td.Cmp(t, styled.Load() > 0, host.framed, "shown within a frame of another site")
			p.navigate(page.URL)
			p.until("document.querySelector('.horse')")
			td.CmpTrue(t, eval[bool](p, "fetch("+quote(elsewhere.URL+"/leak")+").then(() => false, () => true)"), "nothing leaves")
			td.CmpTrue(t, eval[bool](p, `new Promise(done => { const s = document.createElement('script'); s.textContent = 'window.ran = 1'; document.body.append(s); setTimeout(() => done(!window.ran), 100); })`), "nothing inline runs")
			td.Cmp(t, eval[string](p, "document.querySelector('meta[name=referrer]').content"), "no-referrer")
			td.Cmp(t, asked.Load(), int32(0))

			alone, err := http.Get(page.URL + "/whorl.html")
			td.Require(t).CmpNoError(err)
			alone.Body.Close()
			td.Cmp(t, strings.HasPrefix(alone.Header.Get("Content-Disposition"), "attachment"), !host.framed, "whorl.html is saved, not opened")
		})
	}
}

// Without a header that says how long a file lasts, the service worker has every file with a hash in its name after the first visit.
func TestChromiumASecondVisitWithoutHeaders(t *testing.T) {
	t.Parallel()
	site, err := built()
	td.Require(t).CmpNoError(err)
	folder := filepath.Join(t.TempDir(), "whorl")
	td.Require(t).CmpNoError(site.Write(folder))
	files := http.FileServer(http.Dir(folder))
	var asked atomic.Int32
	host := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if lastingName.MatchString(r.URL.Path) {
			asked.Add(1)
		}
		files.ServeHTTP(w, r)
	}))
	t.Cleanup(host.Close)
	p := newPhone(t, browser(t), host.URL)
	p.until("navigator.serviceWorker.ready.then(() => true)")
	td.CmpTrue(t, asked.Load() > 0)
	p.navigate(host.URL)
	p.until("navigator.serviceWorker.controller && document.querySelector('.horse')")
	asked.Store(0)
	p.navigate(host.URL)
	p.until("document.querySelector('.horse')")
	td.Cmp(t, asked.Load(), int32(0))
}

// lastingName is of the paths of files whose names change with what is in them.
var lastingName = regexp.MustCompile(`-([0-9a-f]{12}|[0-9A-Z]{8})\.`)
