package api_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// answersOf gives a finding for each answer and each site of a sign, or one that was measured.
func answersOf(s vitals.Sign) (out []vitals.Finding) {
	sites := []vitals.SiteID{""}
	if len(s.Sites) > 0 {
		sites = nil
		for _, x := range s.Sites {
			sites = append(sites, x.ID)
		}
	}
	for i, site := range sites {
		f := vitals.Finding{Sign: s.ID, Site: site}
		switch s.Methods[0] {
		case vitals.ByChoice:
			for j, g := range s.Grades {
				g := vitals.Finding{Sign: s.ID, Site: site, Chosen: []vitals.GradeID{g.ID}, Minutes: i*len(s.Grades) + j}
				if len(s.Where) > 0 && j > 0 {
					g.Where = s.Where[j%len(s.Where) : j%len(s.Where)+1]
				}
				out = append(out, g)
			}
			continue
		case vitals.ByTaps:
			f.Count = &vitals.Count{Events: 20, Seconds: 30, Start: vitals.Anywhere}
		case vitals.ByTimer:
			f.Timed = &vitals.Timed{CentiSeconds: []int{150}}
		case vitals.ByGirth:
			f.Girth = &vitals.Girth{Girth: decimal.New(180, 0), Length: decimal.New(160, 0), Unit: vitals.Centimetre}
		case vitals.ByReading:
			f.Reading = &vitals.Reading{Value: s.Span.Low.Add(decimal.New(5, 0)), Unit: s.Unit}
		}
		out = append(out, f)
	}
	return out
}

// Every sign of the catalogue, with every answer and place, goes through the report on screen and in print, the link, FHIR
// and the table in each language, and is found in each by its words.
func TestEverySignGoesEverywhere(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "h", Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare}
	say := func(lang words.Lang, key string) string {
		said := words.Say(lang, key)
		td.Cmp(t, said, td.Not(key), "%s: no words", lang)
		return said
	}
	fold := strings.ToLower
	has := func(text, want, where string) {
		t.Helper()
		if !strings.Contains(fold(strings.Join(strings.Fields(text), " ")), fold(want)) {
			t.Errorf("%s has no %q", where, want)
		}
	}
	for _, s := range vitals.Catalogue() {
		exam := vitals.Exam{ID: "e", Horse: "h", At: time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC), Depth: vitals.Full, Purpose: vitals.Concern,
			State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Findings: answersOf(s)}
		exam.Call = &vitals.Call{SaidAt: exam.At, ToldAt: exam.At, Told: "the night line", ClosedAt: exam.At, Outcome: "went home"}
		record, err := json.Marshal(map[string]any{"horse": horse, "exam": exam})
		td.Require(t).CmpNoError(err)
		for _, lang := range words.Langs() {
			request := func(more string) string { return `{"lang":"` + string(lang) + `",` + more + string(record[1:]) }
			var told, opened struct {
				Text   string
				Report struct {
					Parts []struct{ Lines []struct{ Text string } }
				}
			}
			td.Require(t).CmpNoError(json.Unmarshal(value(t, "report", request("")), &told))
			var link struct{ Fragment string }
			td.Require(t).CmpNoError(json.Unmarshal(value(t, "link", request(`"page":"https://yard.example/",`)), &link))
			td.Require(t).CmpNoError(json.Unmarshal(value(t, "open", `{"lang":"`+string(lang)+`","fragment":`+quoted(link.Fragment)+`}`), &opened))
			td.Cmp(t, opened.Text, told.Text, "%s of %s", lang, s.ID)
			var screen strings.Builder
			for _, p := range told.Report.Parts {
				for _, l := range p.Lines {
					screen.WriteString(l.Text + "\n")
				}
			}
			var fhir, sheet struct{ Text string }
			td.Require(t).CmpNoError(json.Unmarshal(value(t, "fhir", request("")), &fhir))
			exams, err := json.Marshal([]vitals.Exam{exam})
			td.Require(t).CmpNoError(err)
			card, err := json.Marshal(horse)
			td.Require(t).CmpNoError(err)
			td.Require(t).CmpNoError(json.Unmarshal(value(t, "sheet", `{"lang":"`+string(lang)+`","horse":`+string(card)+`,"exams":`+string(exams)+`}`), &sheet))

			spoken := "sign." + string(s.ID)
			if words.Has(lang, spoken+".say") {
				spoken += ".say"
			}
			where := string(lang) + " " + string(s.ID) + " "
			for _, text := range []struct{ of, in string }{{"report", screen.String()}, {"print", told.Text}} {
				has(text.in, say(lang, spoken), where+text.of)
			}
			has(fhir.Text, say(lang, "sign."+string(s.ID)), where+"FHIR")
			has(fhir.Text, `"code":"`+string(s.ID)+`"`, where+"FHIR")
			has(sheet.Text, say(lang, "sign."+string(s.ID)), where+"table")
			for _, f := range exam.Findings {
				var wants []string
				for _, g := range f.Chosen {
					wants = append(wants, say(lang, "grade."+string(s.ID)+"."+string(g)))
					has(fhir.Text, `"code":"`+string(s.ID)+"."+string(g)+`"`, where+"FHIR")
				}
				for _, place := range append([]vitals.SiteID{f.Site}, f.Where...) {
					if place != "" {
						wants = append(wants, say(lang, "site."+string(place)))
					}
				}
				for _, want := range wants {
					has(screen.String(), want, where+"report")
					has(told.Text, want, where+"print")
					has(sheet.Text, strings.ReplaceAll(want, `"`, `""`), where+"table")
					quotedWant, err := json.Marshal(want)
					td.Require(t).CmpNoError(err)
					has(fhir.Text, strings.Trim(string(quotedWant), `"`), where+"FHIR")
				}
			}
			for _, text := range []string{screen.String(), told.Text, fhir.Text, sheet.Text} {
				has(text, "the night line", where)
				has(text, "went home", where)
			}
		}
	}
}
