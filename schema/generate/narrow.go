package main

import (
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// closed gives the list of values of a type that has one, nil for any other.
func closed(t reflect.Type, lists map[string][]any) []any {
	if t.Kind() != reflect.String {
		return nil
	}
	return lists[t.Name()]
}

// plain takes from a Go comment what only Go's documentation shows as intended.
func plain(comment string) string {
	comment = strings.ReplaceAll(comment, "\n", " ")
	return strings.NewReplacer("[", "", "]", "").Replace(comment)
}

// limit puts the decoder's limits on the texts and lists of an object.
func limit(d *jsonschema.Schema) {
	if d.Properties == nil {
		return
	}
	for p := d.Properties.Oldest(); p != nil; p = p.Next() {
		switch s := p.Value; s.Type {
		case "string":
			s.MaxLength = at(schema.MaxText)
		case "array":
			s.MaxItems = at(schema.MaxItems)
		}
	}
}

// narrow adds what Go's types cannot say.
func narrow(defs jsonschema.Definitions) {
	kind, _ := defs["File"].Properties.Get("kind")
	kind.Const, kind.MaxLength = schema.Kind, nil
	format, _ := defs["File"].Properties.Get("format")
	format.Const = schema.Format

	text, _ := defs["Unread"].Properties.Get("text")
	text.MaxLength = nil // a document within the document
	raw, _ := defs["Unknown"].Properties.Get("json")
	raw.MaxLength = at(vitals.MaxUnknownBytes)
	place, _ := defs["Unknown"].Properties.Get("at")
	place.Pattern = `^/[\s\S]|^exams/-$`
	for _, keeper := range []string{"Finding", "Exam", "Horse", "File"} {
		list, _ := defs[keeper].Properties.Get("unknown")
		list.MaxItems = at(vitals.MaxUnknown)
	}

	finding := defs["Finding"]
	for _, way := range ways {
		finding.OneOf = append(finding.OneOf, &jsonschema.Schema{Required: []string{way}})
	}
	finding.DependentRequired = map[string][]string{"where": {"chosen"}}
	for _, b := range bounds {
		p, _ := defs[b.object].Properties.Get(b.member)
		p.Minimum, p.Maximum = json.Number(strconv.Itoa(b.low)), json.Number(strconv.Itoa(b.high))
	}
	for _, l := range lengths {
		p, _ := defs[l.object].Properties.Get(l.member)
		p.MinItems, p.MaxItems = at(uint64(l.low)), at(uint64(l.high))
	}
	unit, _ := defs["Girth"].Properties.Get("unit")
	unit.Ref, unit.Enum = "", []any{vitals.Centimetre, vitals.Inch}
	for _, sign := range vitals.Catalogue() {
		finding.AllOf = append(finding.AllOf, rule(sign))
	}
	defs["SignID"].Enum = signs()
}

// bounds are those of whole numbers, lengths those of lists, as vitals.CheckExam holds them.
var (
	bounds = []limits{
		{"Count", "seconds", vitals.MinCountWindow, vitals.MaxCountWindow},
		{"Finding", "minutes", 0, vitals.MaxMinutes},
		{"State", "sinceMinutes", 0, vitals.MaxMinutes},
		{"Trot", "seconds", 0, vitals.MaxTrotSeconds},
	}
	lengths = []limits{
		{"Taps", "atMs", 2, vitals.MaxTaps},
		{"Timed", "centiSeconds", 1, vitals.MaxTries},
	}
)

type limits struct {
	object, member string
	low, high      int
}

// ways are the members of a finding of which exactly one is there.
var ways = []string{"count", "taps", "reading", "timed", "girth", "chosen", "absent"}

func signs() (list []any) {
	for _, s := range vitals.Catalogue() {
		list = append(list, s.ID)
	}
	return list
}

// rule says what a finding of one sign may hold: its ways, sites, answers and units.
func rule(s vitals.Sign) *jsonschema.Schema {
	then := jsonschema.NewProperties()
	for _, way := range ways {
		if way != "absent" && !slices.Contains(s.Methods, method[way]) {
			then.Set(way, jsonschema.FalseSchema)
		}
	}
	then.Set("site", oneOf(s.Sites, func(x vitals.Site) any { return x.ID }))
	if where := oneOf(s.Where, func(x vitals.SiteID) any { return x }); where == jsonschema.FalseSchema {
		then.Set("where", where)
	} else {
		then.Set("where", &jsonschema.Schema{Items: where, UniqueItems: true})
	}
	if len(s.Grades) > 0 {
		then.Set("chosen", &jsonschema.Schema{
			Items:    oneOf(s.Grades, func(x vitals.Grade) any { return x.ID }),
			MinItems: at(1), MaxItems: one(s.Kind == vitals.KindGrade), UniqueItems: true,
		})
	}
	if slices.Contains(s.Methods, vitals.ByReading) {
		unit := jsonschema.NewProperties()
		unit.Set("unit", oneOf(units(s.Unit), func(x vitals.Unit) any { return x }))
		then.Set("reading", &jsonschema.Schema{Properties: unit})
	}
	sign := jsonschema.NewProperties()
	sign.Set("sign", &jsonschema.Schema{Const: s.ID})
	found := &jsonschema.Schema{Properties: then}
	if s.PerSite {
		found.Required = []string{"site"}
	}
	return &jsonschema.Schema{If: &jsonschema.Schema{Properties: sign}, Then: found}
}

// method is the way of a sign that each member stands for.
var method = map[string]vitals.Method{
	"count": vitals.ByCount, "taps": vitals.ByTaps, "reading": vitals.ByReading,
	"timed": vitals.ByTimer, "girth": vitals.ByGirth, "chosen": vitals.ByChoice,
}

// oneOf is a closed list of what is in from; false, nothing at all, if it is empty.
func oneOf[T any](from []T, id func(T) any) *jsonschema.Schema {
	if len(from) == 0 {
		return jsonschema.FalseSchema
	}
	s := &jsonschema.Schema{}
	for _, x := range from {
		s.Enum = append(s.Enum, id(x))
	}
	return s
}

// one limits a list to one item.
func one(only bool) *uint64 {
	if only {
		return at(1)
	}
	return nil
}

// units are those in which a sign compared in unit u may be read.
func units(u vitals.Unit) []vitals.Unit {
	switch u {
	case vitals.Celsius:
		return []vitals.Unit{vitals.Celsius, vitals.Fahrenheit}
	case vitals.Kilogram:
		return []vitals.Unit{vitals.Kilogram, vitals.Pound}
	}
	return []vitals.Unit{u}
}
