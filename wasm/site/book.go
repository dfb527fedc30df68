package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	core "whorl.example/wasm/api"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// allWords gives every message that the page can show: the library's and its own.
func allWords(lang words.Lang) map[string]string {
	all := words.Keys(lang)
	maps.Copy(all, words.Page(lang))
	return all
}

// ask asks the core natively: the page gets what the browser's core would say.
func ask(op string, request map[string]any) (json.RawMessage, error) {
	text, err := json.Marshal(request)
	if err != nil {
		return nil, err
	}
	var answer struct {
		OK     bool            `json:"ok"`
		Value  json.RawMessage `json:"value"`
		Faults []vitals.Fault  `json:"faults"`
	}
	if err := json.Unmarshal(core.Call(op, text), &answer); err != nil {
		return nil, err
	}
	if !answer.OK {
		return nil, fmt.Errorf("%s: %w", op, vitals.Faults(answer.Faults).Err())
	}
	return answer.Value, nil
}

// bookParts is what the page takes of the catalogue: Book in types.ts.
var bookParts = []string{"signs", "sections", "depths", "types", "sexes", "purposes", "conditions", "stages", "criteria", "trots"}

// makeBook gives the catalogue and the steps of every exam, so that the form works before
// the core has arrived.
func makeBook() ([]byte, error) {
	catalogue, err := ask("catalogue", map[string]any{})
	if err != nil {
		return nil, err
	}
	book := map[string]json.RawMessage{}
	if err := json.Unmarshal(catalogue, &book); err != nil {
		return nil, err
	}
	// What the page does not ask or show stays in the core.
	maps.DeleteFunc(book, func(name string, _ json.RawMessage) bool { return !slices.Contains(bookParts, name) })
	steps := map[string]json.RawMessage{}
	for _, depth := range vitals.Depths() {
		for _, holder := range vitals.Holders() {
			for _, closed := range []bool{false, true} {
				key := []string{string(depth), string(holder)}
				if closed {
					key = append(key, "closed")
				}
				if steps[strings.Join(key, "+")], err = schema.Marshal(vitals.Steps(depth, holder, closed)); err != nil {
					return nil, err
				}
			}
		}
	}
	if book["steps"], err = json.Marshal(steps); err != nil {
		return nil, err
	}
	if book["cautions"], err = schema.Marshal(vitals.Cautions()); err != nil {
		return nil, err
	}
	if book["flags"], err = json.Marshal(flags()); err != nil {
		return nil, err
	}
	if book["redFlags"], err = schema.Marshal(vitals.RedFlags()); err != nil {
		return nil, err
	}
	return withoutSources(book)
}

// waitTable is what to do and to leave while waiting, so that it stands before the core has arrived: WAITS in waits.ts. An
// animal is of a class by its type, its stage of life and whether it carries or nurses a foal, in this order; of a
// class the lines of each problem are the same.
type waitTable struct {
	Lists  map[vitals.Problem][][]vitals.WaitID `json:"lists"`
	Of     string                               `json:"of"`
	Always []vitals.WaitID                      `json:"always"`
	// Out is what a line makes false beside it.
	Out map[string][]vitals.WaitID `json:"out"`
}

func makeWaits() waitTable {
	at := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	lines := func(h vitals.Horse, p vitals.Problem) (list []vitals.WaitID) {
		for _, w := range vitals.WhileWaiting(h, at, p) {
			list = append(list, w.ID)
		}
		return list
	}
	t := waitTable{Lists: map[vitals.Problem][][]vitals.WaitID{}, Always: lines(vitals.Horse{}, ""), Out: vitals.Overrules()}
	var classes []string
	for _, kind := range vitals.Types() {
		for _, stage := range vitals.Stages() {
			for _, carries := range []bool{false, true} {
				h := vitals.Horse{Type: kind, Sex: vitals.Mare, InFoal: carries, Born: bornAt(stage, at)}
				all := map[vitals.Problem][]vitals.WaitID{}
				for _, p := range vitals.Problems() {
					list := lines(h, p)
					all[p] = list[:len(list)-len(t.Always)] // those for every problem stand at the end
				}
				class := fmt.Sprint(all)
				n := slices.Index(classes, class)
				if n < 0 {
					n = len(classes)
					classes = append(classes, class)
					for p, list := range all {
						t.Lists[p] = append(t.Lists[p], list)
					}
				}
				t.Of += strconv.Itoa(n)
			}
		}
	}
	return t
}

// bornAt is a day of birth by which an animal is of a stage at a time.
func bornAt(stage vitals.Stage, at time.Time) vitals.Date {
	for days := 0; ; days++ {
		born := vitals.DateOf(at.AddDate(0, 0, -days))
		if s, _ := (vitals.Horse{Born: born}).StageAt(at); s == stage {
			return born
		}
	}
}

// withoutSources leaves out what the form never shows: where a figure is from, and the published ranges.
func withoutSources(book map[string]json.RawMessage) ([]byte, error) {
	text, err := json.Marshal(book)
	if err != nil {
		return nil, err
	}
	var all any
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, err
	}
	var strip func(v any)
	strip = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, x := range v {
				strip(x)
			}
		case map[string]any:
			for _, name := range []string{"mark", "note", "source", "ranges"} {
				delete(v, name)
			}
			for _, x := range v {
				strip(x)
			}
		}
	}
	strip(all)
	return json.Marshal(all)
}

// flags gives, sign by sign, the answers for which a rule says to call or to tell by themselves. A line that
// closes several signs at once names them, so that nobody rules one out without reading it.
func flags() map[vitals.SignID][]vitals.GradeID {
	out := map[vitals.SignID][]vitals.GradeID{}
	for _, rule := range vitals.Alarms() {
		if rule.Urgency == vitals.CheckAgain || len(rule.With)+len(rule.Any) > 0 {
			continue // not by this answer alone
		}
		for _, g := range rule.Grades {
			if !slices.Contains(out[rule.Sign], g) {
				out[rule.Sign] = append(out[rule.Sign], g)
			}
		}
	}
	return out
}

// sheetSection is a section of the blank exam sheet, which is what the page is where no
// script runs.
type sheetSection struct {
	Section string
	Signs   []sheetSign
}

type sheetSign struct{ Name, Answers string }

type blankSheet struct {
	Lang     words.Lang
	Why, How string
	Sections []sheetSection
}

// blankSheets gives the sheet in every language, each with the sentences that stand above it. Beside
// a server another browser is nearer than a sheet, and the sheet would keep the first screen waiting.
func blankSheets(one bool) []blankSheet {
	var out []blankSheet
	for _, lang := range words.Langs() {
		say := words.Page(lang)
		s := blankSheet{Lang: lang, Why: say["page.noscript"], How: say["page.noscript.hosted"]}
		if one {
			s.How, s.Sections = say["page.noscript.sheet"], sheetIn(lang)
		}
		out = append(out, s)
	}
	return out
}

func sheetIn(lang words.Lang) []sheetSection {
	say := func(keys ...string) string {
		for _, key := range keys {
			if words.Has(lang, key) {
				return words.Say(lang, key)
			}
		}
		return keys[len(keys)-1]
	}
	var out []sheetSection
	for _, section := range vitals.Sections() {
		s := sheetSection{Section: say("section." + string(section))}
		for _, sign := range vitals.Catalogue() {
			if sign.Section != section {
				continue
			}
			var answers []string
			for _, g := range sign.Grades {
				answers = append(answers, "☐ "+say("grade."+string(sign.ID)+"."+string(g.ID), "grade."+string(g.ID)))
			}
			if len(answers) == 0 {
				answers = []string{"________ " + say("unit."+string(sign.Unit))}
			}
			s.Signs = append(s.Signs, sheetSign{say("sign." + string(sign.ID)), strings.Join(answers, "  ")})
		}
		out = append(out, s)
	}
	return out
}
