package api_test

import (
	"encoding/json"
	"os"
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
	"whorl.example/wasm/api"
)

type alarming struct {
	Fired        []struct{ Alarm, Urgency, Sign string }
	Level        string
	Said         []string
	Waits, First []struct{ ID, Said string }
}

// heard asks which rules fire in an exam of a horse, each given as the inside of its object.
func heard(t *testing.T, horse, exam, more string) alarming {
	t.Helper()
	var answer struct {
		OK    bool
		Value alarming
	}
	text := api.Call("alarms", []byte(`{"horse":{"id":"x","name":"X",`+horse+`},"exam":{"id":"e","horse":"x","at":"2026-11-14T02:10:00Z",`+
		`"depth":"walk-up","purpose":"concern","state":{"condition":"rest"},"status":"draft",`+exam+`}`+more+`}`))
	if err := json.Unmarshal(text, &answer); err != nil || !answer.OK {
		t.Fatal(err, string(text))
	}
	return answer.Value
}

func TestAlarms(t *testing.T) {
	t.Parallel()
	ids := func(list []struct{ ID, Said string }) (out []string) {
		for _, a := range list {
			td.Cmp(t, a.Said, td.NotEmpty(), a.ID)
			out = append(out, a.ID)
		}
		return out
	}
	rolls := `"findings":[{"sign":"pain-signs","chosen":["rolls"]}]`
	got := heard(t, `"type":"horse"`, rolls, "")
	td.Cmp(t, got.Level, "now")
	td.Cmp(t, len(got.Said), len(got.Fired))
	td.Cmp(t, got.Said[0], words.Say(words.English, "alarm."+got.Fired[0].Alarm))
	td.Cmp(t, ids(got.Waits), td.SuperBagOf("feed-away", "stay-out", "give-nothing", "stay-safe"))
	td.Cmp(t, ids(got.Waits)[len(got.Waits)-1], "stay-safe", "what holds for every problem stands at the end")
	// Hours without feed are a danger to these (Devereux p. 792), so that nobody is told to take it away.
	for _, horse := range []string{`"type":"donkey"`, `"type":"pony"`, `"type":"horse","sex":"mare","inFoal":true`, `"type":"horse","born":"2026-11-10"`} {
		if slices.Contains(ids(heard(t, horse, rolls, "").Waits), "feed-away") {
			t.Errorf("feed taken away: %s", horse)
		}
	}
	got = heard(t, `"type":"horse"`, `"findings":[{"sign":"wounds","chosen":["heavy"]}]`, `,"lang":"es"`)
	td.Cmp(t, ids(got.First), []string{"press"})
	td.Cmp(t, got.First[0].Said, words.Say(words.Spanish, "act.press"))
	// Nothing was answered: no level, no advice, and lists rather than nothing.
	text := api.Call("alarms", []byte(`{"horse":{"id":"x","name":"X","type":"horse"},"exam":{"id":"e","horse":"x","at":"2026-11-14T02:10:00Z","depth":"walk-up","purpose":"learning","state":{"condition":"rest"},"status":"draft"}}`))
	td.Cmp(t, string(text), `{"ok":true,"value":{"fired":[],"level":"","said":[],"waits":[],"first":[]}}`)
	// An exam that is not in order yet, of a horse born later: its rules fire all the same.
	got = heard(t, `"type":"horse","born":"2027-01-01"`, `"findings":[{"sign":"attitude","chosen":["down-thrashing"]},{"sign":"attitude","chosen":["no such"]}]`, "")
	td.Cmp(t, got.Level, "now")
	// A clinic's own rule fires too, from 53 a minute on; its words are in its file.
	clinic, err := os.ReadFile("../../examples/clinic/pack.json")
	td.CmpNoError(t, err)
	got = heard(t, `"type":"horse"`, `"findings":[{"sign":"heart-rate","site":"jaw","reading":{"value":"53","unit":"/min","device":"told"}}]`, `,"pack":`+string(clinic))
	td.Cmp(t, got.Fired[len(got.Fired)-1].Alarm, "windle-brook-heart")
	td.Cmp(t, got.Said[len(got.Said)-1], "")
}
