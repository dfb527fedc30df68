package api

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/invopop/jsonschema"
	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/wasm/checks"
)

const openAPI = "openapi.json"

// openAPIPage describes every operation as a POST to its name, OpenAPI 3.1. What a barn file is made of is as in the schema of the file.
func openAPIPage(t *testing.T) []byte {
	t.Helper()
	defs := fileDefinitions(t)
	r := &jsonschema.Reflector{Namer: func(t reflect.Type) string { return nameOf(t) }}
	for _, dir := range []string{".", "../../vitals", "../../baseline", "../../schema"} {
		td.Require(t).CmpNoError(r.AddGoComments("whorl.example/wasm/api", dir, jsonschema.WithFullComment()))
	}
	for place, text := range r.CommentMap {
		r.CommentMap[place] = strings.NewReplacer("\n", " ", "[", "", "]", "").Replace(text)
	}
	r.Mapper = func(t reflect.Type) *jsonschema.Schema {
		if t == reflect.TypeFor[decimal.NullDecimal]() {
			return &jsonschema.Schema{Ref: "#/$defs/Decimal"}
		}
		if _, ok := defs[t.Name()]; ok && (strings.HasSuffix(t.PkgPath(), "/vitals") || strings.HasSuffix(t.PkgPath(), "/schema") || strings.HasSuffix(t.PkgPath(), "/decimal") || t.PkgPath() == "time") {
			return &jsonschema.Schema{Ref: "#/$defs/" + t.Name()}
		}
		return nil
	}
	place := func(of reflect.Type) any {
		s := r.ReflectFromType(of)
		for name, d := range s.Definitions {
			if _, ok := defs[name]; !ok {
				defs[name] = plainJSON(t, d)
			}
		}
		s.Definitions, s.Version, s.ID = nil, "", ""
		return plainJSON(t, s)
	}
	paths := map[string]any{}
	for _, o := range operations {
		value, _, err := find(o.name)([]byte(o.example))
		td.Require(t).CmpNoError(err, o.name)
		content := func(schema any) any { return map[string]any{"application/json": map[string]any{"schema": schema}} }
		ask := content(place(reflect.TypeOf(o.do).In(0))).(map[string]any)
		ask["application/json"].(map[string]any)["example"] = json.RawMessage(o.example)
		paths["/"+o.name] = map[string]any{"post": map[string]any{
			"operationId": o.name,
			"summary":     summaryOf(t, o.name),
			"requestBody": map[string]any{"required": true, "content": ask},
			"responses": map[string]any{
				"200": map[string]any{"description": "The answer, or every fault of the request.", "content": content(map[string]any{"oneOf": []any{
					map[string]any{
						"type": "object", "additionalProperties": false, "required": []string{"ok", "value"},
						"properties": map[string]any{"ok": map[string]any{"const": true, "description": "The request was answered."}, "value": place(reflect.TypeOf(value))},
					},
					map[string]any{"$ref": "#/$defs/Refusal"},
				}})},
			},
		}}
	}
	defs["Refusal"] = map[string]any{
		"type": "object", "additionalProperties": false, "required": []string{"ok", "faults"}, "description": "The request was refused.",
		"properties": map[string]any{
			"ok":     map[string]any{"const": false, "description": "The request was refused."},
			"faults": map[string]any{"type": "array", "items": map[string]any{"$ref": "#/$defs/Fault"}, "description": "Every fault of the request."},
		},
	}
	defs["Lesson"].(map[string]any)["properties"].(map[string]any)["exam"] = map[string]any{
		"anyOf":       []any{map[string]any{"$ref": "#/$defs/ID"}, map[string]any{"const": ""}},
		"description": "The exam that taught or did not; empty for the sender's own in a link, which carries no identifiers.",
	}
	text, err := json.MarshalIndent(map[string]any{
		"openapi": "3.1.0", "info": map[string]any{"title": "Whorl", "version": Version, "license": map[string]any{"name": "Apache-2.0", "identifier": "Apache-2.0"},
			"description": "The operations of the core, as Call(op, request) has them: a host that serves them takes the request of each as a POST."},
		"jsonSchemaDialect": "https://json-schema.org/draft/2020-12/schema",
		"paths":             paths, "components": map[string]any{"schemas": defs},
	}, "", " ")
	td.Require(t).CmpNoError(err)
	// OpenAPI keeps definitions in one place of its own.
	return append(bytes.ReplaceAll(text, []byte("#/$defs/"), []byte("#/components/schemas/")), '\n')
}

// fileDefinitions are those of the committed schema of the barn file.
func fileDefinitions(t *testing.T) map[string]any {
	t.Helper()
	text, err := os.ReadFile("../../schema/whorl-1.schema.json")
	td.Require(t).CmpNoError(err)
	var s struct {
		Defs map[string]any `json:"$defs"`
	}
	td.Require(t).CmpNoError(json.Unmarshal(text, &s))
	return s.Defs
}

func plainJSON(t *testing.T, s *jsonschema.Schema) any {
	t.Helper()
	text, err := json.Marshal(s)
	td.Require(t).CmpNoError(err)
	var v any
	td.Require(t).CmpNoError(json.Unmarshal(text, &v))
	return v
}

// nameOf is the name of a definition, with its package's where that is not one of the three floors.
func nameOf(t reflect.Type) string {
	at := t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:]
	name := t.Name()
	if name == "" || at == "" || slices.Contains([]string{"vitals", "baseline", "schema"}, at) {
		return name
	}
	return strings.ToUpper(at[:1]) + at[1:] + strings.ToUpper(name[:1]) + name[1:]
}

// summaryOf is what the page of operations says of one.
func summaryOf(t *testing.T, name string) string {
	t.Helper()
	page, err := os.ReadFile("OPERATIONS.md")
	td.Require(t).CmpNoError(err)
	m := regexp.MustCompile("(?m)^\\| `" + name + "` \\| .*? \\| (.*) \\|$").FindSubmatch(page)
	td.Require(t).Cmp(m, td.Len(2), name)
	return string(m[1])
}

// openapi.json is what the types say, and has every operation.
func TestOpenAPIPage(t *testing.T) {
	text := openAPIPage(t)
	if *update {
		td.Require(t).CmpNoError(os.WriteFile(openAPI, text, 0o644))
	}
	kept, err := os.ReadFile(openAPI)
	td.Require(t).CmpNoError(err)
	if !bytes.Equal(kept, text) {
		t.Error("openapi.json is not what the code says: go test ./wasm/api -run OpenAPIPage -update")
	}
	page, err := os.ReadFile("OPERATIONS.md")
	td.Require(t).CmpNoError(err)
	var core, here []string
	for _, m := range regexp.MustCompile("(?m)^\\| `(\\w+)` \\|").FindAllStringSubmatch(string(page), -1) {
		core = append(core, m[1])
	}
	for _, o := range operations {
		here = append(here, o.name)
	}
	td.Cmp(t, here, td.Bag(td.Flatten(core)))
}

// validator compiles the schemas of every operation strictly, and reads one {"op","request","answer"} a line.
const validator = `
const {createRequire} = require("node:module");
const from = dir => createRequire(dir + "/");
const Ajv = from(process.argv[2])("ajv/dist/2020").default;
const {fullFormats} = from(process.argv[3])("ajv-formats/dist/formats");
const fs = require("node:fs");
const page = JSON.parse(fs.readFileSync(process.argv[4], "utf8"));
const ajv = new Ajv({strict: true, strictRequired: false, strictTypes: false, formats: fullFormats, validateFormats: true, allErrors: false});
ajv.addVocabulary(["openapi", "info", "jsonSchemaDialect", "paths", "components", "example"]);
ajv.addSchema({$id: "page", components: page.components});
const point = s => JSON.parse(JSON.stringify(s).replaceAll('"#/components', '"page#/components'));
const checks = {};
for (const [path, {post}] of Object.entries(page.paths)) {
  checks[path.slice(1)] = {
    request: ajv.compile(point(post.requestBody.content["application/json"].schema)),
    answer: ajv.compile(point(post.responses["200"].content["application/json"].schema)),
  };
}
let n = 0;
for (const line of fs.readFileSync(0, "utf8").trim().split("\n")) {
  const {op, request, answer} = JSON.parse(line);
  const check = checks[op];
  n++;
  if (!check.answer(answer)) console.log(op, "answer", JSON.stringify(check.answer.errors.slice(0, 6)), JSON.stringify(answer).slice(0, 200));
  if (answer.ok && !check.request(request)) console.log(op, "request", JSON.stringify(check.request.errors.slice(0, 3)));
  // A member that nobody declared must be refused, or the check says nothing.
  if (answer.ok && check.request({...request, undeclared: 1})) console.log(op, "takes anything");
}
console.log(n);
`

// What the core takes and gives is what the page says, by a validator that was made elsewhere.
func TestOpenAPIHolds(t *testing.T) {
	t.Parallel()
	script := filepath.Join(t.TempDir(), "validate.cjs")
	td.Require(t).CmpNoError(os.WriteFile(script, []byte(validator), 0o600))
	page, err := filepath.Abs(openAPI)
	td.Require(t).CmpNoError(err)
	node := exec.Command(checks.Node(t), script, checks.NPM(t, "ajv@8.17.1"), checks.NPM(t, "ajv-formats@3.0.1"), page)
	var lines bytes.Buffer
	n := 0
	add := func(op, request string) {
		if !json.Valid([]byte(request)) || find(op) == nil {
			return
		}
		answer := Call(op, []byte(request))
		line, err := json.Marshal(map[string]any{"op": op, "request": json.RawMessage(request), "answer": json.RawMessage(answer)})
		td.Require(t).CmpNoError(err)
		lines.Write(append(line, '\n'))
		n++
	}
	for _, o := range operations {
		add(o.name, o.example)
	}
	vectors, err := os.ReadFile("../../examples/vectors/vectors.jsonl")
	td.Require(t).CmpNoError(err)
	for in := json.NewDecoder(bytes.NewReader(vectors)); in.More(); {
		var v struct{ Op, Request string }
		td.Require(t).CmpNoError(in.Decode(&v))
		add(v.Op, v.Request)
	}
	node.Stdin = &lines
	out, err := node.CombinedOutput()
	td.Require(t).CmpNoError(err, string(out))
	td.Cmp(t, n, td.Gt(250))
	var count int
	td.CmpNoError(t, json.Unmarshal(bytes.TrimSpace(out), &count), string(out))
	td.Cmp(t, count, n)
}
