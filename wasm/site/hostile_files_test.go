package main

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/internal/naughty"

	"whorl.example/schema"
)

// What comes in from outside and is made to harm: files whose name or text is hostile, too large, nested too deep, links of
// every hostile string and one that swells, a clinic's file. Each is refused with a sentence or only read, and the page lives on.
func TestHostileThingsComeIn(t *testing.T) {
	t.Parallel()
	const seed = 12
	draw := rand.New(rand.NewPCG(seed, 0))
	// some of the strings in short, all of them with WHORL_LONG
	some := func(n int) []string {
		all := naughty.Strings()
		if os.Getenv("WHORL_LONG") == "" {
			draw.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
			all = all[:n]
		}
		return all
	}
	p := newPhone(t, browser(t), "about:blank")
	hostile(t, p)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(serve(t))))
	p.until("document.querySelector('.horse')")
	all := func() string {
		return quote(stored[json.RawMessage](p, "exams")) + quote(stored[json.RawMessage](p, "horses"))
	}
	before := all()
	fine := func(what string) {
		t.Helper()
		for _, w := range eval[[]string](p, "wrong()") {
			t.Errorf("%s: %s", what, w)
		}
	}

	// Links.
	links := 0
	swollen := func() string {
		var out bytes.Buffer
		w, err := flate.NewWriter(&out, flate.BestCompression)
		td.Require(t).CmpNoError(err)
		zeros := make([]byte, 1<<20)
		for range 200 {
			_, err = w.Write(zeros)
			td.Require(t).CmpNoError(err)
		}
		td.Require(t).CmpNoError(w.Close())
		packed := out.Bytes()
		sum := crc32.ChecksumIEEE(packed)
		return "w1=" + base64.RawURLEncoding.EncodeToString(append([]byte{byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)}, packed...))
	}()
	for part := range slices.Chunk(append(some(60), swollen, "w1="+strings.Repeat("A", 1<<20), "W1:"+strings.Repeat("%", 1<<16)), 20) {
		text := eval[string](p, `(async links => {
			const at = async () => { for (let i = 0; i < 600 && document.querySelector('.screen')?.dataset.at !== location.hash; i++) await new Promise(requestAnimationFrame); };
			const out = [];
			for (const link of links) {
				location.hash = '#/settings';
				await at();
				location.hash = '#' + link;
				// The page's own addresses are no links; nor is what is left of white space.
				if (location.hash.length < 2 || location.hash.startsWith('#/')) continue;
				await at();
				out.push({ link: link.slice(0, 60), told: document.querySelector('.caution')?.textContent ?? '', wrong: wrong() });
			}
			return JSON.stringify(out);
		})(`+quote(part)+")")
		var got []struct {
			Link, Told string
			Wrong      []string
		}
		p.must(json.Unmarshal([]byte(text), &got))
		for _, g := range got {
			links++
			if g.Told == "" {
				t.Errorf("the link %q: no word of why it does not open", g.Link)
			}
			for _, w := range g.Wrong {
				t.Errorf("the link %q: %s", g.Link, w)
			}
		}
	}
	td.Cmp(t, links, td.Gt(40))

	// Barn files, and the same as clinics' files.
	p.show("#/files")
	valid := `{"kind":"whorl-barn","format":1,"horses":[],"exams":[]}`
	padded := func(n int) []byte { return append([]byte(valid), bytes.Repeat([]byte(" "), n-len(valid))...) }
	over := strings.ReplaceAll(english("fault.too-large"), "{most}", "16")
	refusals := []struct {
		name, sentence string
		content        []byte
	}{
		{"nested.json", "", []byte(strings.Repeat("[", 1<<20))},
		{"nested-objects.json", "", []byte(strings.Repeat(`{"horses":`, 1<<18))},
		{"twice.json", "", []byte(`{"kind":"whorl-barn","kind":"whorl-barn","format":1,"horses":[],"exams":[],"exams":[]}`)},
		{"over.json", over, padded(schema.MaxBytes + 1)},
		{"huge.json", over, padded(100 << 20)},
		{"long-text.json", "", []byte(`{"kind":"whorl-barn","format":1,"horses":[{"id":"h","type":"horse","name":"` + strings.Repeat("x", 4<<20) + `"}],"exams":[]}`)},
		{"<img src=x onerror=alert(1)>.json", "", []byte("not a barn")},
		{"\u202enosj.=1+1.json", "", []byte(valid[:20])},
		{"proto.json", "", []byte(`{"__proto__":{"x":1},"constructor":{"prototype":{"y":1}},"kind":"whorl-barn","format":1,"horses":[],"exams":[]}`)},
		{"faults.json", "", []byte(`{"kind":"whorl-barn","format":1,"horses":[` + strings.Repeat(`{"<svg onload=alert(1)>":1},`, 5000) + `{}],"exams":[]}`)},
		{"bytes.json", "", bytes.Repeat([]byte{0xff, 0xfe, 0, 1}, 1000)},
		{"empty.json", "", nil},
	}
	for _, f := range refusals {
		path := laid(t, f.name, f.content)
		for _, id := range []string{"file", "pack"} {
			eval[bool](p, "(document.getElementById('faults').replaceChildren(), document.querySelector('p.result').textContent = '', true)")
			p.choose(id, path)
			p.until("document.querySelector('.summary li')")
			if id == "file" {
				p.until("document.querySelector('p.result').textContent === " + quote(english("page.files.in.not")))
			}
			told := eval[[]string](p, "[...document.querySelectorAll('.summary li')].map(e => e.textContent)")
			td.Cmp(t, told, td.All(td.Len(td.Between(1, 20)), td.ArrayEach(td.NotEmpty())), "%s as %s", f.name, id)
			if f.sentence != "" {
				td.Cmp(t, told, []string{f.sentence}, "%s as %s", f.name, id)
			}
			fine(f.name + " as " + id)
		}
	}
	td.Cmp(t, all() == before, true, "something of a refused file was kept")
	// A little smaller it is read: the request that holds it counts too.
	eval[bool](p, "(document.querySelector('p.result').textContent = '', true)")
	p.choose("file", laid(t, "full.json", padded(schema.MaxBytes-1<<10)))
	p.until("document.querySelector('p.result').textContent.includes('Added: ')")

	// A clinic's file whose every text is hostile.
	packs, taken := 0, 0
	call := "#/exam/" + string(last(p, "demo-juniper").ID) + "/call"
	for _, x := range joined(some(40)) {
		packs++
		pack := map[string]any{"kind": "whorl-pack", "format": 1, "clinic": map[string]any{"name": x.Input, "numbers": []any{map[string]any{"phone": "112", "hours": x.Input}}},
			"questions": []any{map[string]any{"lang": "en", "text": x.Input + "?"}}}
		p.show("#/files")
		eval[bool](p, "(document.getElementById('faults').replaceChildren(), document.getElementById('pack').dataset.old = '1', true)")
		p.choose("pack", laid(t, "clinic.json", []byte(quote(pack))))
		p.until("document.querySelector('.summary li') || document.getElementById('pack') && !document.getElementById('pack').dataset.old")
		fine("a clinic's file of " + x.Input)
		if !eval[bool](p, "!!document.querySelector('.summary li')") {
			taken++
			p.show(call)
			p.heading(english("page.call.tell"))
			fine("the call, with a clinic's file of " + x.Input)
		}
	}
	td.Cmp(t, taken, td.Gt(0))
	// And it still does what it is for.
	p.show("#/")
	start(p, "Juniper", "walk-up", "held")
	t.Logf("%d links and %d files, each as a barn's and as a clinic's: refused with a sentence; %d clinics' files of hostile strings, %d of them taken (seed %d)",
		links, len(refusals), packs, taken, seed)
}
