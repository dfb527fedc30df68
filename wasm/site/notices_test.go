package main

import (
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"whorl.example/wasm"
	"whorl.example/wasm/site/static"
)

// Whose software is in the page goes with it: as a file that the worker keeps and a browser shows, and within the page as one file, where
// it cannot be cut off by what it says.
func TestTheNoticesGoWithThePage(t *testing.T) {
	t.Parallel()
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	want, err := wasm.Notices(root, "github.com/evanw/esbuild")
	if err != nil {
		t.Fatal(err)
	}
	for _, of := range []string{"\n- go1.", "\n- github.com/shopspring/decimal v", "\n- rsc.io/qr v", "\n- github.com/evanw/esbuild v", "Evan Wallace"} {
		if !strings.Contains(want, of) {
			t.Errorf("the notices do not say %q", of)
		}
	}
	site, err := buildAround([]byte("\x00asm\x01\x00\x00\x00"), root)
	if err != nil {
		t.Fatal(err)
	}
	name := regexp.MustCompile(`notices-[0-9a-f]{12}\.txt`).FindString(string(site.Files["sw.js"].Data))
	if name == "" {
		t.Fatal("the worker does not keep the notices")
	}
	answer := httptest.NewRecorder()
	site.ServeHTTP(answer, httptest.NewRequest("GET", "/"+name, nil))
	if got, kind := answer.Body.String(), answer.Header().Get("Content-Type"); got != want || kind != "text/plain; charset=utf-8" {
		t.Errorf("%s is served as %s with %d bytes, not %d", name, kind, len(got), len(want))
	}
	_, within, found := strings.Cut(string(site.Files[static.OneName].Data), `<script type="text/plain" id="part-notices">`)
	within, _, _ = strings.Cut(within, "</script>")
	if !found || within != want {
		t.Errorf("in the one file there are %d bytes of the notices, not %d", len(within), len(want))
	}
	for _, text := range []string{"a</SCRIPT>b", "a<script b", "a<!--b"} {
		p := &parts{notices: text, html: []byte("{{.Tail}}")}
		if _, err := p.oneFile(root); err == nil {
			t.Errorf("a text with %q was put into the one file", text)
		}
	}
}
