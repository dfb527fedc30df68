package main

import (
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/wasm/api"
)

func ask(method, path string, body io.Reader) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	handler().ServeHTTP(w, httptest.NewRequest(method, path, body))
	return w
}

func TestAnswersAreTheCores(t *testing.T) {
	t.Parallel()
	record, err := os.ReadFile("../assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	for _, op := range []string{"compare", "report"} {
		w := ask("POST", "/"+op, strings.NewReader(string(record)))
		td.Cmp(t, w.Code, 200)
		td.Cmp(t, w.Body.String(), string(api.Call(op, record)))
		td.Cmp(t, w.Header().Get("Cache-Control"), "no-store")
	}
	w := ask("GET", "/schema", nil)
	td.Cmp(t, w.Code, 200)
	td.Cmp(t, w.Body.String(), string(schema.JSONSchema()))
}

func TestWhatIsWrongIsSaid(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		method, path string
		body         io.Reader
		status       int
		code         string
	}{
		"a method":          {"DELETE", "/compare", nil, 405, "method"},
		"no operation":      {"POST", "/diagnose", strings.NewReader("{}"), 404, "unknown-op"},
		"no JSON":           {"POST", "/compare", strings.NewReader("{"), 422, "bad-json"},
		"too large":         {"POST", "/compare", strings.NewReader(strings.Repeat(" ", maxBody+1)), 413, "too-large"},
		"too large, unsaid": {"POST", "/compare", io.MultiReader(strings.NewReader(strings.Repeat(" ", maxBody+1))), 413, "too-large"},
		"broken off":        {"POST", "/compare", iotest.ErrReader(errors.New("gone")), 400, "cut-off"},
	} {
		t.Run(name, func(t *testing.T) {
			w := ask(c.method, c.path, c.body)
			td.Cmp(t, w.Code, c.status)
			td.Cmp(t, w.Body.String(), td.All(td.HasPrefix(`{"ok":false`), td.Contains(`"code":"`+c.code+`"`)))
		})
	}
}

func TestAPanicIsATypedAnswer(t *testing.T) {
	t.Parallel()
	w := httptest.NewRecorder()
	guard(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("here") })).ServeHTTP(w, httptest.NewRequest("POST", "/compare", nil))
	td.Cmp(t, w.Code, 500)
	td.Cmp(t, w.Body.String(), internal)
}
