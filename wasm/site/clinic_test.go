package main

import (
	"os"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// A fault of a clinic's file is said with the file, its line and its place, before anything is built.
func TestAFaultOfTheClinicsFileNamesItsLine(t *testing.T) {
	text, err := os.ReadFile("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	_, err = readPack("../../examples/clinic/pack.json")
	td.CmpNoError(t, err)
	path := laid(t, "mine.json", []byte(strings.Replace(string(text), `"urgency": "now"`, `"urgency": "never"`, 1)))
	_, err = readPack(path)
	td.Require(t).CmpError(err)
	td.Cmp(t, err.Error(), td.Contains("mine.json:19: /thresholds/0/urgency: "))
	_, err = readPack(path + "x")
	td.CmpError(t, err)
	_, err = buildWith(t.TempDir(), path)
	td.CmpError(t, err)
}

// It stands beside the page, where the worker keeps it, and in the page as one file.
func TestTheClinicsFileIsLaidIn(t *testing.T) {
	root, err := moduleRoot()
	td.Require(t).CmpNoError(err)
	s := &Site{files: map[string]*file{"index.html": {data: []byte("x")}, oneName: {data: []byte("<html><body>x</body>"), download: true}, "sw.js": {}, "core-1.wasm": {}}}
	td.Require(t).CmpNoError(s.addPack(root, []byte(`{"a":"</script>"}`)))
	td.Cmp(t, string(s.files[packName].data), `{"a":"</script>"}`)
	td.Cmp(t, string(s.files["sw.js"].data), td.All(td.Contains(packName), td.Not(td.Contains(oneName))))
	td.Cmp(t, string(s.files[oneName].data), `<html><body><script type="application/json" id="clinic">{"a":"\u003c/script>"}</script>x</body>`)
}
