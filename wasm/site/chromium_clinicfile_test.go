package main

import (
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema/pack"
	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// chosen takes an entry of a list, as a person does.
func (p *phone) chosen(id, value string) {
	p.t.Helper()
	p.until("document.getElementById(" + quote(id) + ")")
	eval[bool](p, "(e => { e.value = "+quote(value)+"; e.dispatchEvent(new Event('change')); return true; })(document.getElementById("+quote(id)+"))")
}

// A clinic makes its file in the page: each fault stands at its field with what to write instead, until the file is one that the
// program takes. An existing one is changed, and its slips are named by their lines.
func TestChromiumAClinicMakesItsFile(t *testing.T) {
	p := newPhone(t, browser(t), serve(t)+"/#/clinic/file")
	dir := p.downloads()
	p.heading(english("page.made.title"))
	p.look("clinic-file")
	p.touch("#go")
	p.until("document.getElementById('f-clinic-name-fault') && document.getElementById('f-clinic-numbers-0-phone-fault')")
	p.enter("f-clinic-name", "Alder Ford Equine (invented)")
	p.enter("f-clinic-numbers-0-phone", "+44 20 7946 0100 / 0999")
	p.touch("#add-ranges")
	p.chosen("f-ranges-0-sign", "rectal-temperature")
	p.chosen("f-ranges-0-unit", "Cel")
	p.enter("f-ranges-0-low", "99")
	p.enter("f-ranges-0-high", "101")
	p.enter("f-ranges-0-setBy", "Dr Roe")
	p.touch("#add-questions")
	p.enter("f-questions-0-text", "Give 10 ml of it now.")
	p.touch("#go")
	fault := func(id string) string {
		p.until("document.getElementById('" + id + "-fault')")
		return eval[string](p, "document.getElementById('"+id+"-fault').textContent")
	}
	td.Cmp(t, fault("f-clinic-numbers-0-phone"), english("fault.bad-phone"))
	td.Cmp(t, fault("f-ranges-0-low"), td.All(td.Contains("between 30 and 44"), td.Contains("Try: °F."), td.Not(td.Contains("[degF]"))))
	td.Cmp(t, fault("f-questions-0-text"), english("fault.pack-asks"))
	p.look("clinic-file-faults")

	p.enter("f-clinic-numbers-0-phone", "+44 20 7946 0100")
	p.chosen("f-ranges-0-unit", "[degF]")
	p.enter("f-questions-0-text", "How far is the nearest road?")
	p.chosen("f-questions-0-answer", "number")
	p.touch("#go")
	p.until("document.body.innerText.includes(" + quote(english("page.made.in-order")) + ")")
	p.touch("#made-save")
	text := p.taken(dir, "clinic.json")
	got, err := pack.Decode(text)
	td.Require(t).CmpNoError(err, string(text))
	td.Cmp(t, got.Clinic.Name, "Alder Ford Equine (invented)")
	td.Cmp(t, got.Questions, []pack.Question{{ID: "q1", Lang: "en", Text: "How far is the nearest road?", Answer: vitals.Number}})
	td.Cmp(t, got.Ranges[0].Unit, vitals.Fahrenheit)

	// What was made is opened again, with a slip of the hand.
	p.choose("made-open", laid(t, "slip.json", []byte(strings.Replace(string(text), `"rectal-temperature"`, `"rectal-temprature"`, 1))))
	td.Cmp(t, fault("f-ranges-0-sign"), td.All(td.HasPrefix("Line "), td.Contains("Try: rectal-temperature.")))
	td.Cmp(t, eval[string](p, "document.getElementById('f-questions-0-text').value"), "How far is the nearest road?")
}

// A clinic's question stands at the step that its file names and with the story, as the clinic's; the answers are kept in the
// exam and told as answers to the clinic. What nobody answered is told as that.
func TestChromiumTheClinicsQuestionsAreAsked(t *testing.T) {
	plain, err := built()
	td.Require(t).CmpNoError(err)
	text, err := static.ReadClinic("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	const order = `"When did she last eat up everything?"`
	text = []byte(strings.Replace(string(text), order, order+`}, {"id": "beat", "lang": "en", "at": "heart-rate", "answer": "yes-no", "text": "Does her heart \"pound\"?"`, 1))
	site := plain.Copied()
	td.Require(t).CmpNoError(site.AddClinic(text))
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	file := sorrelBarn(t)
	file.Exams = append(file.Exams, vitals.Exam{ID: "now", Horse: sorrel.ID, At: time.Now().Truncate(time.Second), Depth: vitals.HandsOn, Purpose: vitals.Concern,
		Holder: vitals.Held, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft})
	p := withBarn(t, server.URL, file)
	p.at("#/exam/now/all")
	p.touch("Heart rate")
	p.until("document.getElementById('asked-1')")
	td.Cmp(t, p.text(), td.Contains("Windle Brook Equine Practice (invented) asks: “Does her heart 'pound'?”"))
	p.touch("input[name=asked-1][value=no]")
	p.at("#/exam/now/story/2")
	td.Cmp(t, p.text(), td.All(td.Contains("asks: “When did she"), td.Contains("asks: “Is there a vehicle"), td.Not(td.Contains("pound"))))
	p.enter("asked-0", "at noon, “fine”")
	p.at("#/exam/now/check")
	p.until("document.body.innerText.includes(" + quote(english("page.asked.none")) + ")")
	p.look("clinic-asks")
	p.until("document.body.innerText.includes('at noon')")
	p.touch("#go")
	p.until("location.hash === '#/exam/now/result' && document.querySelector('.screen')?.dataset.at === location.hash")
	var asked []string
	for _, a := range last(p, sorrel.ID).Asked {
		asked = append(asked, string(a.ID)+"="+a.Answer)
	}
	slices.Sort(asked)
	td.Cmp(t, asked, []string{"ate=at noon, “fine”", "beat=no", "vehicle="})
	p.at("#/exam/now/call")
	td.Cmp(t, p.text(), td.All(td.Contains("own words: “Does her heart 'pound'?” The answer: no."), td.Contains("eat up everything?” The answer: “at noon, 'fine'”"),
		td.Contains("take her in tonight?” Not answered.")))
}
