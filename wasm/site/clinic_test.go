package main

import (
	"os"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/site/static"
)

// A fault of a clinic's file is said with the file, its line and its place, before anything is built.
func TestAFaultOfTheClinicsFileNamesItsLine(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	_, err = static.ReadClinic("../../examples/clinic/pack.json")
	td.CmpNoError(t, err)
	path := laid(t, "mine.json", []byte(strings.Replace(string(text), `"urgency": "now"`, `"urgency": "never"`, 1)))
	_, err = static.ReadClinic(path)
	td.Require(t).CmpError(err)
	td.Cmp(t, err.Error(), td.Contains("mine.json:19: /thresholds/0/urgency: "))
	_, err = static.ReadClinic(path + "x")
	td.CmpError(t, err)
	_, err = buildWith(t.TempDir(), path)
	td.CmpError(t, err)
}

// It stands beside the page, where the worker keeps it, and in the page as one file.
func TestTheClinicsFileIsLaidIn(t *testing.T) {
	t.Parallel()
	s := &static.Site{Files: map[string]*static.File{"index.html": {Data: []byte("x")}, static.OneName: {Data: []byte("<html><body>x</body>")}, "sw.js": {Data: []byte("const FILES=[];\nrest()")}, "core-1.wasm": {}}}
	td.Require(t).CmpNoError(s.AddClinic([]byte(`{"a":"</script>"}`)))
	td.Cmp(t, string(s.Files[static.ClinicName].Data), `{"a":"</script>"}`)
	td.Cmp(t, string(s.Files["sw.js"].Data), td.All(td.HasSuffix("\nrest()"), td.Contains(static.ClinicName), td.Not(td.Contains(static.OneName))))
	td.Cmp(t, string(s.Files[static.OneName].Data), `<html><body><script type="application/json" id="clinic">{"a":"\u003c/script>"}</script>x</body>`)
}
