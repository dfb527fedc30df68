package release

import (
	"crypto/sha1"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"whorl.example/wasm"
)

// bill is the list of what is inside, as SPDX 2.3 in JSON: each file of the release with its sums, and each module that is linked into
// one of them, with its licence. It asserts nothing that nobody looked at.
func bill(all map[string][]byte, inside []wasm.Part, stamp Stamp) ([]byte, error) {
	type checksum struct {
		Algorithm string `json:"algorithm"`
		Value     string `json:"checksumValue"`
	}
	type relation struct {
		Element string `json:"spdxElementId"`
		Type    string `json:"relationshipType"`
		Related string `json:"relatedSpdxElement"`
	}
	const document, whorl = "SPDXRef-DOCUMENT", "SPDXRef-Package-Whorl"
	packages := []map[string]any{{
		"SPDXID": whorl, "name": "Whorl", "versionInfo": stamp.Version, "sourceInfo": "commit " + stamp.Commit,
		"downloadLocation": "NOASSERTION", "filesAnalyzed": false, "copyrightText": "Copyright 2026 The Whorl authors",
		"licenseDeclared": "Apache-2.0", "licenseConcluded": "Apache-2.0", "primaryPackagePurpose": "APPLICATION",
	}}
	relations := []relation{{document, "DESCRIBES", whorl}}
	for _, p := range inside {
		id, name, version := "SPDXRef-Package-"+idOf(p.Path), p.Path, p.Version
		if p.Path == wasm.GoItself {
			version = strings.TrimPrefix(version, "go")
		}
		licence := licenceID(p.Licence)
		packages = append(packages, map[string]any{
			"SPDXID": id, "name": name, "versionInfo": version, "downloadLocation": "NOASSERTION", "filesAnalyzed": false,
			"licenseDeclared": licence, "licenseConcluded": licence, "copyrightText": copyrights(p.Licence),
			"externalRefs": []map[string]string{{"referenceCategory": "PACKAGE-MANAGER", "referenceType": "purl", "referenceLocator": "pkg:golang/" + name + "@" + version}},
		})
		relations = append(relations, relation{whorl, "CONTAINS", id})
	}
	var listed []map[string]any
	for _, name := range slices.Sorted(maps.Keys(all)) {
		id := "SPDXRef-File-" + idOf(name)
		listed = append(listed, map[string]any{
			"SPDXID": id, "fileName": "./" + name, "licenseConcluded": "NOASSERTION", "copyrightText": "NOASSERTION",
			"checksums": []checksum{{"SHA1", fmt.Sprintf("%x", sha1.Sum(all[name]))}, {"SHA256", fmt.Sprintf("%x", sha256.Sum256(all[name]))}},
		})
		relations = append(relations, relation{id, "GENERATED_FROM", whorl})
	}
	text, err := json.MarshalIndent(map[string]any{
		"spdxVersion": "SPDX-2.3", "dataLicense": "CC0-1.0", "SPDXID": document, "name": "whorl-" + stamp.Version,
		"documentNamespace": "https://whorl.example/spdx/" + stamp.Version + "-" + stamp.Commit,
		"creationInfo":      map[string]any{"created": stamp.At.UTC().Format(time.RFC3339), "creators": []string{"Tool: whorl-release-" + stamp.Version}},
		"packages":          packages, "files": listed, "relationships": relations,
	}, "", " ")
	return append(text, '\n'), err
}

// idOf has letters, digits, dots and hyphens only, as SPDX asks.
func idOf(name string) string {
	return strings.Map(func(r rune) rune {
		if r == '.' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' {
			return r
		}
		return '-'
	}, name)
}

// licenceID knows the licences that are linked today by a sentence of each; of another nothing is asserted.
func licenceID(text string) string {
	flat := strings.Join(strings.Fields(text), " ")
	switch {
	case strings.Contains(flat, "Permission is hereby granted, free of charge"):
		return "MIT"
	case strings.Contains(flat, "Redistribution and use in source and binary forms") && strings.Contains(flat, "Neither the name"):
		return "BSD-3-Clause"
	default:
		return "NOASSERTION"
	}
}

// copyrights are the lines of a licence that say whose it is.
func copyrights(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "Copyright ") && strings.ContainsAny(line, "0123456789") && !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	if len(lines) == 0 {
		return "NOASSERTION"
	}
	return strings.Join(lines, "\n")
}
