package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// python is that of the system, which has the system's libraries.
const python = "/usr/bin/python3"

// webkitKept starts a window of WebKitGTK on a profile that outlives it. There is nobody to click in
// it: the page gets the events that a finger makes.
func webkitKept(t *testing.T, profile string) tab {
	t.Helper()
	if err := exec.Command(python, "-c", "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2").Run(); err != nil {
		t.Skip("no WebKitGTK for Python here: apt-get install python3-gi gir1.2-webkit2-4.1")
	}
	env, _ := webkitEnv(t)
	cmd := exec.Command(python, filepath.Join("testdata", "webkit.py"), profile)
	cmd.Env = append(os.Environ(), env...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	started(t, cmd)
	w := &window{t: t, group: cmd.Process.Pid, in: in, lines: make(chan []byte)}
	go func() {
		defer close(w.lines)
		r := bufio.NewReader(out)
		for {
			line, err := r.ReadBytes('\n')
			if err != nil {
				return
			}
			w.lines <- line
		}
	}()
	return w
}

type window struct {
	t     *testing.T
	group int
	in    io.WriteCloser
	lines chan []byte
}

func (w *window) order(what map[string]any) (json.RawMessage, error) {
	text, err := json.Marshal(what)
	if err != nil {
		return nil, err
	}
	if _, err := w.in.Write(append(text, '\n')); err != nil {
		return nil, err
	}
	select {
	case line, ok := <-w.lines:
		if !ok {
			return nil, errors.New("the window is gone")
		}
		return unwrapped(line)
	case <-time.After(60 * time.Second):
		return nil, errors.New("the window does not answer")
	}
}

func (w *window) must(what map[string]any) {
	w.t.Helper()
	if _, err := w.order(what); err != nil {
		w.t.Fatal(err)
	}
}

func (w *window) visit(url string) { w.t.Helper(); w.must(map[string]any{"visit": url}) }
func (w *window) reload()          { w.t.Helper(); w.must(map[string]any{"reload": true}) }

func (w *window) run(js string) (json.RawMessage, error) {
	return w.order(map[string]any{"js": `try { const v = await (` + js + `); return JSON.stringify({ value: v === undefined ? null : v }); }
		catch (e) { return JSON.stringify({ error: String(e) }); }`})
}

func (w *window) click(js string) {
	w.t.Helper()
	w.must(map[string]any{"js": `const e = ` + js + `;
		for (const name of ['pointerdown', 'pointerup']) e.dispatchEvent(new PointerEvent(name, { bubbles: true, cancelable: true, pointerId: 1, isPrimary: true }));
		e.click();
		return '{"value":null}';`})
}

func (w *window) enter(js, text string) {
	w.t.Helper()
	w.must(map[string]any{"js": `const e = ` + js + `;
		e.value = ` + quote(text) + `;
		e.dispatchEvent(new Event('input', { bubbles: true }));
		return '{"value":null}';`})
}

func (w *window) choose(string, string) { w.t.Fatal("nobody chooses a file here") }

func (w *window) downloads() string { return "" }

func (w *window) quit() {
	_ = w.in.Close()
	for range 100 {
		if syscall.Kill(-w.group, 0) != nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	w.kill()
}

func (w *window) kill() { _ = syscall.Kill(-w.group, syscall.SIGKILL) }
