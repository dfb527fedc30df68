package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Firefox and WebKitGTK, driven by the commands of WebDriver: over HTTP to WebKitWebDriver, and over
// Firefox's own socket (Marionette, what geckodriver speaks to), so that nothing has to be installed beside the browsers.

// wire sends one command of WebDriver and gives its value.
type wire interface {
	command(c command) (json.RawMessage, error)
	io.Closer
}

// command is one command, by the name that Firefox has for it and by its place over HTTP below the session.
type command struct {
	name, method, path string
	params             map[string]any
}

// driven is one window of a browser behind WebDriver.
type driven struct {
	t    *testing.T
	wire wire
	// group is the group of processes of the browser and its driver.
	group int
	dir   string
}

func (d *driven) do(c command) json.RawMessage {
	d.t.Helper()
	value, err := d.wire.command(c)
	if err != nil {
		d.t.Fatalf("%s: %v", c.name, err)
	}
	return value
}

func (d *driven) visit(url string) {
	d.t.Helper()
	d.do(command{"WebDriver:Navigate", "POST", "/url", map[string]any{"url": url}})
}

// reload is the page's own: Firefox's command goes past the service worker, as nobody does who only pulls the page down.
func (d *driven) reload() {
	d.t.Helper()
	if _, err := d.run("(document.documentElement.dataset.old = 'old', setTimeout(() => location.reload()), true)"); err != nil {
		d.t.Fatal(err)
	}
	for range 500 {
		// While the page goes, a script of it has nowhere to run.
		if got, err := d.run("!document.documentElement.dataset.old && document.readyState === 'complete'"); err == nil && string(got) == "true" {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	d.t.Fatal("the page does not come back")
}

func (d *driven) run(js string) (json.RawMessage, error) {
	script := `const done = arguments[arguments.length - 1];
		(async () => (` + js + `))().then(v => done(JSON.stringify({ value: v === undefined ? null : v })), e => done(JSON.stringify({ error: String(e) })));`
	text, err := d.wire.command(command{"WebDriver:ExecuteAsyncScript", "POST", "/execute/async", map[string]any{"script": script, "args": []any{}}})
	if err != nil {
		return nil, err
	}
	return unwrapped(text)
}

// unwrapped is the value of a text {"value":…} or {"error":…}, itself in JSON.
func unwrapped(text []byte) (json.RawMessage, error) {
	var inner string
	var got struct {
		Value json.RawMessage
		Error string
	}
	if err := json.Unmarshal(text, &inner); err != nil {
		return nil, fmt.Errorf("%w in %s", err, text)
	}
	if err := json.Unmarshal([]byte(inner), &got); err != nil {
		return nil, err
	}
	if got.Error != "" {
		return nil, fmt.Errorf("%s", got.Error)
	}
	return got.Value, nil
}

// element gives WebDriver's own name of what an expression finds, brought to the middle of the screen.
func (d *driven) element(js string) string {
	d.t.Helper()
	text := d.do(command{"WebDriver:ExecuteScript", "POST", "/execute/sync", map[string]any{
		"script": "const e = " + js + "; e.scrollIntoView({ block: 'center' }); return e;", "args": []any{}}})
	// Firefox puts the value into a member, HTTP has taken it out already.
	names := map[string]string{}
	if err := json.Unmarshal(text, &names); err != nil || len(names) != 1 {
		d.t.Fatalf("no element: %s", text)
	}
	for _, name := range names {
		return name
	}
	return ""
}

func (d *driven) click(js string) {
	d.t.Helper()
	id := d.element(js)
	d.do(command{"WebDriver:ElementClick", "POST", "/element/" + id + "/click", map[string]any{"id": id}})
}

func (d *driven) enter(js, text string) {
	d.t.Helper()
	id := d.element(js)
	d.do(command{"WebDriver:ElementClear", "POST", "/element/" + id + "/clear", map[string]any{"id": id}})
	d.do(command{"WebDriver:ElementSendKeys", "POST", "/element/" + id + "/value", map[string]any{"id": id, "text": text}})
}

// choose needs no click: the field of a file takes a path as if it were typed.
func (d *driven) choose(js, path string) {
	d.t.Helper()
	id := d.element(js)
	d.do(command{"WebDriver:ElementSendKeys", "POST", "/element/" + id + "/value", map[string]any{"id": id, "text": path}})
}

func (d *driven) downloads() string { return d.dir }

func (d *driven) quit() {
	_, _ = d.wire.command(command{"Marionette:Quit", "DELETE", "", map[string]any{"flags": []string{"eForceQuit"}}})
	_ = d.wire.Close()
	// The profile is free when the last process is gone.
	for range 100 {
		if syscall.Kill(-d.group, 0) != nil {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	_ = syscall.Kill(-d.group, syscall.SIGKILL)
}

func (d *driven) kill() {
	_ = syscall.Kill(-d.group, syscall.SIGKILL)
	_ = d.wire.Close()
}

// spawn starts a program with a group of its own, which ends with the test.
func spawn(t *testing.T, env []string, name string, args ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), env...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	return started(t, cmd)
}

func started(t *testing.T, cmd *exec.Cmd) *exec.Cmd {
	t.Helper()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	gone := make(chan struct{})
	go func() { _ = cmd.Wait(); close(gone) }()
	t.Cleanup(func() {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
		<-gone
	})
	return cmd
}

// program gives a program, or skips the test.
func program(t *testing.T, pack string, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skipf("no %s here: apt-get install %s", names[0], pack)
	return ""
}

// firefox starts Firefox on a profile.
func firefox(t *testing.T, profile string) tab {
	t.Helper()
	path := program(t, "firefox-esr", "firefox-esr", "firefox")
	dir := t.TempDir()
	prefs := map[string]any{
		"marionette.port": 0, "browser.download.folderList": 2, "browser.download.dir": dir,
		"browser.helperApps.neverAsk.saveToDisk": "application/json", "intl.accept_languages": "en-GB",
		"datareporting.policy.dataSubmissionEnabled": false, "browser.shell.checkDefaultBrowser": false,
	}
	var user strings.Builder
	for name, v := range prefs {
		fmt.Fprintf(&user, "user_pref(%s, %s);\n", quote(name), quote(v))
	}
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(user.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	port := filepath.Join(profile, "MarionetteActivePort")
	for _, left := range []string{port, filepath.Join(profile, "lock"), filepath.Join(profile, ".parentlock")} {
		_ = os.Remove(left)
	}
	cmd := spawn(t, []string{"HOME=" + dir, "MOZ_CRASHREPORTER_DISABLE=1"}, path, "--headless", "--no-remote", "--profile", profile, "--marionette")
	var conn net.Conn
	for end := time.Now().Add(60 * time.Second); conn == nil; time.Sleep(50 * time.Millisecond) {
		if n, err := os.ReadFile(port); err == nil {
			conn, _ = net.Dial("tcp", "127.0.0.1:"+strings.TrimSpace(string(n)))
		}
		if time.Now().After(end) {
			t.Fatal("Firefox does not start")
		}
	}
	m := &marionette{conn: conn}
	if _, err := m.packet(); err != nil { // its greeting
		t.Fatal(err)
	}
	d := &driven{t: t, wire: m, group: cmd.Process.Pid, dir: dir}
	d.do(command{name: "WebDriver:NewSession", params: map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{
		"timeouts": map[string]any{"script": 60000}}}}})
	d.do(command{name: "WebDriver:SetWindowRect", params: map[string]any{"width": 450, "height": 860}})
	return d
}

// marionette is Firefox's socket: packets of their length, a colon and JSON.
type marionette struct {
	conn net.Conn
	id   int
	buf  []byte
}

func (m *marionette) Close() error { return m.conn.Close() }

func (m *marionette) packet() ([]byte, error) {
	_ = m.conn.SetReadDeadline(time.Now().Add(90 * time.Second))
	for {
		if head, rest, ok := bytes.Cut(m.buf, []byte(":")); ok {
			n, err := strconv.Atoi(string(head))
			if err != nil {
				return nil, err
			}
			if len(rest) >= n {
				m.buf = rest[n:]
				return rest[:n:n], nil
			}
		}
		chunk := make([]byte, 64<<10)
		n, err := m.conn.Read(chunk)
		if err != nil {
			return nil, err
		}
		m.buf = append(m.buf, chunk[:n]...)
	}
}

func (m *marionette) command(c command) (json.RawMessage, error) {
	m.id++
	text, err := json.Marshal([]any{0, m.id, c.name, c.params})
	if err != nil {
		return nil, err
	}
	if _, err := fmt.Fprintf(m.conn, "%d:%s", len(text), text); err != nil {
		return nil, err
	}
	text, err = m.packet()
	if err != nil {
		return nil, err
	}
	var answer [4]json.RawMessage
	if err := json.Unmarshal(text, &answer); err != nil {
		return nil, err
	}
	if string(answer[2]) != "null" {
		return nil, fmt.Errorf("%s", answer[2])
	}
	var value struct{ Value json.RawMessage }
	if json.Unmarshal(answer[3], &value) == nil && value.Value != nil {
		return value.Value, nil
	}
	return answer[3], nil
}

// webkit starts WebKitGTK's small browser as WebKitWebDriver drives it: by real clicks, and with a store that ends with it.
func webkit(t *testing.T, _ string) tab {
	t.Helper()
	path := program(t, "webkit2gtk-driver", "WebKitWebDriver")
	found, err := filepath.Glob("/usr/lib*/*/webkit2gtk-4.*/MiniBrowser")
	if err != nil || len(found) == 0 {
		t.Skip("no MiniBrowser beside WebKitWebDriver")
	}
	env, dir := webkitEnv(t)
	ask := map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{
		"browserName": "MiniBrowser", "timeouts": map[string]any{"script": 60000},
		"webkitgtk:browserOptions": map[string]any{"binary": found[0], "args": []string{"--automation"}}}}}
	port := freePort(t)
	cmd := spawn(t, env, path, "--port="+port)
	w := &overHTTP{"http://127.0.0.1:" + port + "/session"}
	var got json.RawMessage
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if got, err = w.command(command{method: "POST", params: ask}); err == nil {
			break
		}
	}
	var session struct{ SessionID string }
	if err := json.Unmarshal(got, &session); err != nil || session.SessionID == "" {
		t.Fatalf("WebKit does not start: %v %s", err, got)
	}
	w.base += "/" + session.SessionID
	d := &driven{t: t, wire: w, group: cmd.Process.Pid, dir: filepath.Join(dir, "Downloads")}
	d.do(command{"", "POST", "/window/rect", map[string]any{"width": 450, "height": 860}})
	return d
}

func freePort(t *testing.T) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	return strconv.Itoa(listener.Addr().(*net.TCPAddr).Port)
}

// webkitEnv is a home of its own, and a display.
func webkitEnv(t *testing.T) (env []string, dir string) {
	t.Helper()
	dir = t.TempDir()
	downloads := filepath.Join(dir, "Downloads")
	for _, d := range []string{downloads, filepath.Join(dir, "run"), filepath.Join(dir, ".config")} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, ".config", "user-dirs.dirs"), []byte(`XDG_DOWNLOAD_DIR="$HOME/Downloads"`+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return []string{"HOME=" + dir, "XDG_RUNTIME_DIR=" + filepath.Join(dir, "run"), "XDG_CONFIG_HOME=" + filepath.Join(dir, ".config"),
		"DISPLAY=" + display(t), "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "LIBGL_ALWAYS_SOFTWARE=1", "NO_AT_BRIDGE=1", "GTK_A11Y=none", "LANG=C.UTF-8"}, dir
}

// display starts a screen that nobody sees.
func display(t *testing.T) string {
	t.Helper()
	path := program(t, "xvfb", "Xvfb")
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() }) // it dies of a pipe that is closed
	cmd := exec.Command(path, "-noreset", "-displayfd", "3", "-screen", "0", "1280x1024x24", "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{w}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	started(t, cmd)
	w.Close()
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatal("no display: ", err)
	}
	return ":" + strings.TrimSpace(number)
}

// overHTTP is WebDriver as it is published.
type overHTTP struct{ base string }

func (w *overHTTP) Close() error { return nil }

func (w *overHTTP) command(c command) (json.RawMessage, error) {
	text, err := json.Marshal(c.params)
	if err != nil {
		return nil, err
	}
	req, err := http.NewRequest(c.method, w.base+c.path, bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	client := &http.Client{Timeout: 90 * time.Second}
	got, err := client.Do(req)
	if err != nil {
		return nil, err
	}
	defer got.Body.Close()
	var answer struct{ Value json.RawMessage }
	if err := json.NewDecoder(got.Body).Decode(&answer); err != nil {
		return nil, err
	}
	if got.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%d %s", got.StatusCode, answer.Value)
	}
	return answer.Value, nil
}
