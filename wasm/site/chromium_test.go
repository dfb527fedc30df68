package main

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"time"

	core "whorl.example/wasm/api"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func english(key string) string { return allWords(words.English)[key] }

// asked is the question of a sign at a depth.
func asked(sign vitals.SignID, at vitals.Depth) string {
	return title(vitals.Step{Sign: sign, Depth: at})
}

// title is what the page's title asks at a step.
func title(s vitals.Step) string {
	for _, key := range []string{"sign." + string(s.Sign) + ".ask." + string(s.Depth), "sign." + string(s.Sign) + ".ask"} {
		if text := english(key); text != "" {
			return text
		}
	}
	return ""
}

// The whole of it by touch, as a handler does: from the start page through a hands-on exam
// to the report, with the tab closed half way. What the page then tells is what the library
// says of the record that the page kept.
func TestChromiumExamByTouch(t *testing.T) {
	t.Parallel()
	url, b := serve(t), browser(t)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	p.look("barn")
	p.touch("Corporal")
	p.heading("Corporal")
	p.look("horse")
	p.touch("#go")
	p.heading("Check Corporal")
	p.look("start")
	p.touch("input[name=depth][value=hands-on]")
	p.touch("input[name=holder][value=held]")
	p.touch("#why-concern")
	p.heading(english("page.start.condition"))
	p.look("state")
	p.touch("#state-rest")

	steps := stepsAsked(vitals.HandsOn, vitals.Held, false)
	half := len(steps) / 2
	for i, step := range steps {
		sign, _ := vitals.Lookup(step.Sign)
		if step.Sign == vitals.WoundPlace {
			continue // "none seen" has answered where it is
		}
		p.until("/[/]g[/][0-9]+$|[/]" + strconv.Itoa(i) + "([/]one)?$/.test(location.hash)")
		if eval[bool](p, "location.hash.includes('/g/')") {
			// One question at a time, as somebody does who examines for the first time.
			p.until("document.querySelector('.screen.group')")
			p.look("group")
			p.touch("#one")
		}
		p.heading(title(step))
		if i == half {
			// The tab goes; another comes, and the barn offers to go on at this step.
			p.close()
			p = newPhone(t, b, url)
			p.until("document.querySelector('.draft')")
			p.look("resume")
			p.touch("#go")
			p.heading(title(step))
		}
		p.look(string(step.Sign))
		answer(p, sign, step)
		p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
		if !sign.Kind.Measured() && sign.PerSite || sign.Kind.Measured() {
			p.look(string(step.Sign) + "-answered")
		}
		p.touch("#go")
	}
	for page := range 3 {
		p.heading(english("page.story.title." + string(rune('1'+page))))
		p.look("story")
		if page == 0 {
			p.enter("noticed", "Off his evening feed")
		}
		p.touch("#go")
	}
	p.heading(english("page.check.title"))
	p.touch("[value=unwell]")
	p.look("check")
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && !document.querySelector('h1').textContent.includes('Check')")
	p.look("result")
	exams := stored[json.RawMessage](p, "exams")
	var exam vitals.Exam
	var history []json.RawMessage
	var raw json.RawMessage
	for _, e := range exams {
		var x struct {
			ID, Horse string
			Purpose   string
			Findings  []vitals.Finding
		}
		p.must(json.Unmarshal(e, &x))
		switch {
		case x.Horse != "demo-corporal":
		case strings.HasPrefix(x.ID, "demo-"):
			history = append(history, e)
		default:
			raw = e
			exam.ID, exam.Findings = vitals.ID(x.ID), x.Findings
		}
	}
	if raw == nil {
		t.Fatal("the exam is not in the store")
	}
	var horse json.RawMessage
	for _, h := range stored[json.RawMessage](p, "horses") {
		if strings.Contains(string(h), `"demo-corporal"`) {
			horse = h
		}
	}
	request, err := json.Marshal(map[string]any{"horse": horse, "exams": history, "exam": raw, "lang": "en"})
	p.must(err)
	var said struct {
		OK    bool
		Value struct {
			Text   string
			Report struct {
				Parts []struct {
					Heading string
					Lines   []reportLine
				}
			}
		}
	}
	answer := core.Call("report", request)
	p.must(json.Unmarshal(answer, &said))
	if !said.OK {
		t.Fatalf("the library refuses what the page kept: %s", answer)
	}
	var want []string
	for _, part := range said.Value.Report.Parts {
		want = append(want, part.Heading)
		for _, line := range part.Lines {
			want = append(want, line.shown())
		}
	}
	// A rule says to call now: first the words to say, and behind them the whole report.
	p.touch("#say")
	p.touch(english("page.call.tell"))
	p.heading(english("page.call.tell"))
	p.look("call")
	got := eval[[]string](p, "[...document.querySelectorAll('.body section:not(.paper) h2, .body section:not(.paper) p')].map(e => e.textContent)")
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("the page tells\n%s\nand the library says\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// reportLine is a line of a report as the library gives it.
type reportLine struct {
	Text  string
	Blank bool
}

// shown is the line as it stands on the screen: a blank is something to say there, and no line to write on.
func (l reportLine) shown() string {
	if l.Blank {
		return strings.TrimSuffix(l.Text, ":")
	}
	return l.Text
}

// answer gives an answer to a step by touch.
func answer(p *phone, sign vitals.Sign, step vitals.Step) {
	p.t.Helper()
	switch sign.Kind {
	case vitals.KindRate:
		beat := time.Second * 60 / 40
		if sign.ID == vitals.RespiratoryRate {
			beat = time.Second * 60 / 26
		}
		p.tapBeats(8, beat)
	case vitals.KindTimed:
		for range 2 {
			x, y := p.point("#pad")
			p.press(x, y)
			time.Sleep(1400 * time.Millisecond)
			p.lift()
		}
	default:
		sites := []vitals.SiteID{""}
		if sign.PerSite && !sign.AnySite {
			sites = step.Sites
		}
		for _, site := range sites {
			name := "answer"
			if site != "" {
				name += "-" + string(site)
			}
			p.touch("input[name=" + name + "][value=" + string(sign.Grades[0].ID) + "]")
		}
	}
}

// tapBeats taps the pad n times, every so often.
func (p *phone) tapBeats(n int, every time.Duration) {
	p.t.Helper()
	x, y := p.point("#pad")
	next := time.Now()
	for range n {
		time.Sleep(time.Until(next))
		p.press(x, y)
		p.lift()
		next = next.Add(every)
	}
}
