package words

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/maxatome/go-testdeep/td"
)

// all gives every message of a language, the library's and the page's.
func all(l Lang) map[string]string {
	out := Keys(l)
	maps.Copy(out, Page(l))
	return out
}

// What the library says and what the page says share no key, in any language.
func TestEachKeyIsSaidOnce(t *testing.T) {
	t.Parallel()
	for _, lang := range allLangs {
		onPage := Page(lang)
		td.CmpTrue(t, len(onPage) > 200 && len(Keys(lang)) > 500, string(lang))
		for key := range onPage {
			td.CmpFalse(t, Has(lang, key), "%s %s", lang, key)
		}
		said, _ := messages(lang)
		for _, of := range []struct {
			parts tables
			all   map[string]string
		}{{said, Keys(lang)}, {page(lang), onPage}} {
			n := 0
			for _, part := range of.parts {
				n += len(*part)
			}
			td.Cmp(t, n, len(of.all), "%s: a key stands in two tables", lang)
		}
	}
}

func TestEveryLanguageHasEveryKey(t *testing.T) {
	t.Parallel()
	for _, lang := range allLangs {
		for name, tables := range map[string][2]map[string]string{
			"library": {Keys(English), Keys(lang)}, "page": {Page(English), Page(lang)},
		} {
			for key := range tables[0] {
				if _, ok := tables[1][key]; !ok {
					t.Errorf("%s lacks %q of the %s", lang, key, name)
				}
			}
			for key := range tables[1] {
				if _, ok := tables[0][key]; !ok {
					t.Errorf("%s has %q of the %s, and English has not", lang, key, name)
				}
			}
		}
	}
}

var field = regexp.MustCompile(`\{([^{}]*)\}`)

// beside are facts that the code gives and English has no use for.
var beside = map[string][]string{
	"report.since.today": {"h"}, "report.since.week": {"h"}, "report.given.today": {"h"}, "report.given.week": {"h"},
	"report.age.today": {"sex"}, "report.age.old": {"sex"},
	"kinds.horse": {"sex"}, "kinds.pony": {"sex"}, "kinds.draft": {"sex"}, "kinds.donkey": {"sex"}, "kinds.mule": {"sex"},
	"spell.year": {"whole"}, "spell.unit.°C": {"n"}, "spell.unit.°F": {"n"},
}

// instead are facts that a language may leave out for another.
var instead = map[string]string{"spell.year": "pairs"}

// The same facts stand in the sentences of every language. A choice of form ({n:one|many})
// may be missing where the language needs none.
func TestFieldsAgree(t *testing.T) {
	t.Parallel()
	inEnglish := all(English)
	for _, lang := range allLangs {
		for key, text := range all(lang) {
			english := inEnglish[key]
			has, must := map[string]bool{}, map[string]bool{}
			for _, f := range field.FindAllStringSubmatch(english, -1) {
				name, _, choice := strings.Cut(f[1], ":")
				has[name] = true
				must[name] = must[name] || !choice
			}
			for _, f := range field.FindAllStringSubmatch(text, -1) {
				name, forms, choice := strings.Cut(f[1], ":")
				if !has[name] && !slices.Contains(beside[key], name) {
					t.Errorf("%s %s: nothing gives {%s}: %s", lang, key, name, text)
				}
				delete(must, name)
				if n := strings.Count(forms, "|") + 1; choice && (n != 2 && name != "sex" || name == "sex" && n != 3 && n != 4) {
					t.Errorf("%s %s: {%s} has %d forms", lang, key, f[1], n)
				}
			}
			for name, plain := range must {
				if plain && instead[key] != name {
					t.Errorf("%s %s: {%s} is missing: %s", lang, key, name, text)
				}
			}
			if strings.Count(text, "{") != len(field.FindAllString(text, -1)) {
				t.Errorf("%s %s: a brace that is no field: %s", lang, key, text)
			}
		}
	}
}

// A sentence stays a sentence, a question a question, a label a label, and as long as the
// screen has room for; what is empty in English may say something in another language.
func TestSentencesKeepTheirShape(t *testing.T) {
	t.Parallel()
	inEnglish := all(English)
	for _, lang := range allLangs {
		for key, text := range all(lang) {
			english := inEnglish[key]
			if english == "" {
				continue
			}
			td.Cmp(t, strings.TrimSpace(text) == "", false, "%s %s is empty", lang, key)
			td.Cmp(t, strings.HasPrefix(text, " "), strings.HasPrefix(english, " "), "%s %s: space before: %q", lang, key, text)
			td.Cmp(t, strings.HasSuffix(text, " "), strings.HasSuffix(english, " "), "%s %s: space after: %q", lang, key, text)
			for _, end := range []string{".", ":", "?", "…"} {
				td.Cmp(t, strings.HasSuffix(text, end), strings.HasSuffix(english, end), "%s %s ends otherwise: %q", lang, key, text)
			}
			td.Cmp(t, strings.Count(text, "\n"), strings.Count(english, "\n"), "%s %s: lines", lang, key)
			if n, most := utf8.RuneCountInString(text), 22+utf8.RuneCountInString(english)*3/2; n > most {
				t.Errorf("%s %s has %d characters, more than %d: %s", lang, key, n, most, text)
			}
			for i, line := range strings.Split(text, "\n") {
				if strings.HasPrefix(key, "sign.") && utf8.RuneCountInString(line) > 110 {
					t.Errorf("%s %s: line %d is too long for one hand on the horse: %s", lang, key, i+1, line)
				}
			}
		}
	}
}

// Words that mean something else, or something rude, in another country; that address the
// reader as tú or vos; that are of Spain alone; or that say more than the job allows.
// From a glossary of barn Spanish whose safety words are those of Miller Clouser and
// others, Safety on the Farm / Seguridad en el rancho (NIOSH, NASD d002492); the regional
// traps are common practice, no source.
var traps = map[string]string{
	`(?i)espaldas?`:                             "the back in one country, the shoulder of a horse in another: lomo, hombro",
	`(?i)garañ[oó]n(es)?`:                       "a stallion in one country, a jackass in another: entero, semental",
	`(?i)co(ge|ger|gen|ja|jan|gió|gido)`:        "vulgar in Mexico and Argentina: tomar, sujetar",
	`(?i)tumb(ar|arse|ado|ada|a)`:               "of Spain: echarse, acostarse, en el suelo",
	`(?i)piensos?`:                              "of Spain: grano",
	`(?i)paletas?`:                              "the shoulder of a horse in the south alone: hombro",
	`(?i)cuadras?`:                              "of Spain: establo, caballeriza",
	`(?i)ordenador(es)?|móvil(es)?|fichero(s)?`: "of Spain: dispositivo, teléfono, archivo",
	`(?i)vosotros|os|vuestr[oa]s?`:              "of Spain: ustedes",
	`(?i)tú|tu|tus|te|ti|contigo|vos`:           "usted",
	`(?i)puedes|tienes|debes|quieres|has|eres`:  "usted",
	`(Mira|Toca|Aprieta|Suelta|Cuenta|Elige|Escribe|Llama|Abre|Guarda|Lava|Usa|Ve|Pon|Haz|Deja|Quita|Agrega|Compara|Escucha|Levanta|Pasa)`: "usted, where a sentence begins",
	`(?i)normal(es|mente)?`:                         "never called normal: lo habitual, como siempre",
	`(?i)reportes?`:                                 "one word for one thing: informe",
	`(?i)(revisión|lectura)(es|s)? tranquilas?`:     "one word for one thing: en calma",
	`(?i)revisiones tranquilas`:                     "one word for one thing: en calma",
	`(?i)de costumbre`:                              "one word for one thing: como siempre",
	`(?i)pulso digital`:                             "sounds like an electronic pulse: pulso en la cuartilla",
	`(?i)embaraz(o|ada)s?`:                          "of women: preñada",
	`(?i)pezuñas?`:                                  "of cattle: casco",
	`(?i)añojos?`:                                   "of cattle: de un año",
	`(?i)chequear?|chequeo|aplicar|remover|soporte`: "English in disguise",
}

// excused are the messages in which a trapped word means what it should.
var excused = map[string]string{
	"grade.pain-signs.leaves-feed": "Deja",          // "Deja la comida": the horse leaves it
	"sign.digital-pulse.say":       "pulso digital", // the veterinarian's word, after the groom's
}

func TestSpanishHeedsTheTraps(t *testing.T) {
	t.Parallel()
	td.CmpTrue(t, len(traps) > 15)
	for word, why := range traps {
		// \b of the regexp package knows ASCII letters alone.
		trap := regexp.MustCompile(`(?:^|[^\pL])(` + word + `)(?:$|[^\pL])`)
		for key, text := range all(Spanish) {
			if m := trap.FindStringSubmatch(text); m != nil && !strings.EqualFold(excused[key], m[1]) {
				t.Errorf("%s says %q (%s): %s", key, m[1], why, text)
			}
		}
	}
}

// Spanish opens its questions, and puts its quotation marks and dashes.
func TestSpanishMarks(t *testing.T) {
	t.Parallel()
	for key, text := range all(Spanish) {
		td.Cmp(t, strings.Count(text, "¿"), strings.Count(text, "?"), "%s: %s", key, text)
		td.Cmp(t, strings.Count(text, "¡"), strings.Count(text, "!"), "%s: %s", key, text)
		td.Cmp(t, strings.Count(text, "«"), strings.Count(text, "»"), "%s: %s", key, text)
		if strings.ContainsAny(text, "“”‘’\"") {
			t.Errorf("%s has the quotation marks of another language: %s", key, text)
		}
	}
}

// No message names a drug or a dose, and none but the questions about what was before,
// and what studies were of, names a disease.
func TestNoDrugNoDoseNoDisease(t *testing.T) {
	t.Parallel()
	drug := regexp.MustCompile(`(?i)flunixin|flunixina|banamine|phenylbutazone|fenilbutazona|\bbute\b|buscopan|hyoscine|metamizol|dipirona|` +
		`xylazine|xilacina|detomidine|detomidina|acepromazin|ketoprofen|meloxicam|ivermectin|mg/kg|\bmg\b|\bml\b|\bcc\b|miligramo|mililitro`)
	disease := regexp.MustCompile(`(?i)colic|cólico|laminitis|infosura|colitis|neumon|pneumon|herpes|influenza|tétan|tetan|rabdom|rhabdo|tying|azoturia|impact(ion|ación)|septic|sepsis`)
	for _, lang := range allLangs {
		for key, text := range all(lang) {
			if key != "spell.unit.ml" { // how a handler's own words are read aloud
				td.Cmp(t, drug.FindString(text), "", "%s %s", lang, key)
			}
			switch key {
			case "page.story.history.hint", "remark.pulse-weak":
				continue
			}
			td.Cmp(t, disease.FindString(text), "", "%s %s", lang, key)
		}
	}
}

func TestFillChooses(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		text string
		args []string
		want string
	}{
		{"{n} {n:revisión|revisiones}", []string{"n", "1"}, "1 revisión"},
		{"{n} {n:revisión|revisiones}", []string{"n", "0"}, "0 revisiones"},
		{"{sex:ella|él|este animal}", []string{"sex", "mare"}, "ella"},
		{"{sex:ella|él|este animal}", []string{"sex", "gelding"}, "él"},
		{"{sex:ella|él|este animal}", []string{"sex", "stallion"}, "él"},
		{"{sex:ella|él|este animal}", []string{"sex", ""}, "este animal"},
		{"a {h:la|las} {clock}", []string{"clock", "1:05 pm", "h", "1"}, "a la 1:05 pm"},
		{"a {h:la|las} {clock}", []string{"clock", "11:05 pm", "h", "11"}, "a las 11:05 pm"},
		{"{gone} {", nil, "{gone} {"},
	} {
		td.Cmp(t, Fill(x.text, x.args...), x.want)
	}
}

// What turns the writing is what Unicode's property Bidi_Control says, of every character there is.
func TestTurns(t *testing.T) {
	t.Parallel()
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if Turns(r) != unicode.Is(unicode.Bidi_Control, r) {
			t.Errorf("%U", r)
		}
	}
}
