package main

import (
	"encoding/json"
	"path/filepath"
	"reflect"

	"github.com/invopop/jsonschema"

	"whorl.example/schema/pack"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// packName is the file of the schema of a clinic's file.
const packName = "pack/whorl-pack-1.schema.json"

// packSchema makes the schema of a clinic's file. It says less than [pack.Decode]: what a sign can be at all, the units of a sign, that the low limit
// is below the high one, ids used twice, and amounts in a question are the decoder's.
func packSchema(dir string) (*jsonschema.Schema, error) {
	r, named, err := reflector(dir, filepath.Join(dir, "pack"))
	if err != nil {
		return nil, err
	}
	s := r.Reflect(pack.Pack{})
	for name, d := range named {
		s.Definitions[name] = d
	}
	s.ID = "https://whorl.example/schema/whorl-pack-1.schema.json"
	s.Title = "A clinic's file for Whorl, format 1"
	for _, d := range s.Definitions {
		limit(d)
	}
	of := func(object, member string) *jsonschema.Schema {
		p, _ := s.Definitions[object].Properties.Get(member)
		return p
	}
	kind := of("Pack", "kind")
	kind.Const, kind.MaxLength = pack.Kind, nil
	of("Pack", "format").Const = pack.Format
	of("Clinic", "numbers").MinItems = at(1)
	for _, needed := range [][2]string{{"Clinic", "name"}, {"Range", "setBy"}, {"Threshold", "setBy"}} {
		of(needed[0], needed[1]).Pattern = `\S`
	}
	of("Clinic", "name").MaxLength = at(vitals.MaxName)
	of("Clinic", "page").Pattern = "^(https://[^# \"<>\n]*)?$"
	of("Clinic", "page").MaxLength = at(200)
	of("Number", "phone").Pattern = `^ *[+]?[0-9 .()-]*$`
	of("Number", "phone").MinLength = at(3)
	of("Question", "text").Pattern = `\?\s*$`
	of("Question", "text").MaxLength = at(vitals.MaxQuestion)
	s.Definitions["Lang"] = &jsonschema.Schema{Type: "string", Enum: list(words.Langs())}
	for _, place := range []*jsonschema.Schema{of("Pack", "langs").Items, of("Question", "lang")} {
		*place = jsonschema.Schema{Ref: "#/$defs/Lang"}
	}
	s.Definitions["SignID"].Enum = signs()
	s.Definitions["Urgency"].Enum = list([]vitals.Urgency{vitals.RingNow, vitals.RingSoon})
	needs := func(members ...string) (all []*jsonschema.Schema) {
		for _, m := range members {
			all = append(all, &jsonschema.Schema{Required: []string{m}})
		}
		return all
	}
	s.Definitions["Range"].AnyOf = needs("low", "high")
	s.Definitions["Threshold"].OneOf = needs("above", "below", "grades")
	return s, nil
}

func list[T ~string](from []T) (all []any) {
	for _, x := range from {
		all = append(all, x)
	}
	return all
}

// reflector makes schemas of the types of folders, with their comments; named are the definitions of the closed lists and
// grammars that it met. dir is the directory of package schema.
func reflector(dir string, from ...string) (*jsonschema.Reflector, jsonschema.Definitions, error) {
	lists, err := constants(filepath.Join(dir, "../vitals"))
	if err != nil {
		return nil, nil, err
	}
	delete(lists, "AlarmID") // the rules are read from a text: the one that is a constant is not all of them
	here, err := importPath(dir)
	if err != nil {
		return nil, nil, err
	}
	r := &jsonschema.Reflector{}
	for _, folder := range append(from, filepath.Join(dir, "../vitals")) {
		if err := r.AddGoComments(here, folder, jsonschema.WithFullComment()); err != nil {
			return nil, nil, err
		}
	}
	for place, text := range r.CommentMap {
		r.CommentMap[place] = plain(text)
	}
	named := jsonschema.Definitions{}
	r.Mapper = func(t reflect.Type) *jsonschema.Schema {
		s, known := grammars[t]
		if !known {
			list := closed(t, lists)
			if list == nil {
				return nil
			}
			s = jsonschema.Schema{Type: "string", Enum: list, Description: r.CommentMap[t.PkgPath()+"."+t.Name()]}
		}
		named[t.Name()] = &s
		return &jsonschema.Schema{Ref: "#/$defs/" + t.Name()}
	}
	return r, named, nil
}

// indented is a schema as it is read.
func indented(s *jsonschema.Schema) ([]byte, error) {
	text, err := json.MarshalIndent(s, "", "  ")
	return append(text, '\n'), err
}
