package main

import (
	"embed"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"minim/pantry"
)

// schemaFiles describe what --json prints, one file for each command and one
// for each part that several share: JSON Schema, draft 2020-12.
//
//go:embed schema/*.json
var schemaFiles embed.FS

func schemaCommand() command {
	return command{
		name:     "schema",
		synopsis: "schema [SCHEMA]",
		summary:  "what --json prints, as JSON Schema",
		about: `Prints the JSON Schema (draft 2020-12) of what a command prints with --json:
every key, its unit and when it is null. Without a name it lists the schemas.`,
		example: `minim schema design`,
		bare:    true,
		flags:   func(*flags) {},
		run: func(f *flags, s streams) error {
			name := strings.Join(f.args, "-")
			var b strings.Builder
			if name == "" {
				for _, one := range schemaCandidates() {
					fmt.Fprintf(&b, "%-24s %s\n", one.text, one.about)
				}
			} else {
				if !slices.ContainsFunc(schemaCandidates(), func(c candidate) bool { return c.text == name }) {
					return fmt.Errorf("no schema %q; %s", name, pantry.Suggest(name, schemaNames(), 2))
				}
				if err := writeValue(&b, bundledSchema(name)); err != nil {
					return err
				}
			}
			if _, err := io.WriteString(s.out, b.String()); err != nil {
				return &writeError{err}
			}
			return nil
		},
	}
}

// schemaCandidates are the schemas, one for each command that has one, and the
// command that each is of.
func schemaCandidates() []candidate {
	var all []candidate
	var add func([]command)
	add = func(some []command) {
		for _, c := range some {
			if c.schema != "" && !slices.ContainsFunc(all, func(one candidate) bool { return one.text == c.schema }) {
				all = append(all, candidate{c.schema, "minim " + strings.ReplaceAll(c.schema, "-", " ")})
			}
			add(c.commands)
		}
	}
	add(commands())
	return all
}

// schemaBase is what the $id of each schema begins with.
const schemaBase = "minim://schema/"

func schemaNames() []string {
	var all []string
	for _, c := range schemaCandidates() {
		all = append(all, c.text)
	}
	return all
}

// bundledSchema is a schema with those that it refers to under $defs, each with
// its $id, so that a reference finds it there (JSON Schema core 2020-12,
// section 9.3). References are written whole: some readers resolve one file
// against another only for the web's own schemes.
func bundledSchema(name string) map[string]any {
	main := schemaFile(name + ".json")
	bundled := map[string]any{}
	var add func(any)
	add = func(part any) {
		switch part := part.(type) {
		case []any:
			for _, inner := range part {
				add(inner)
			}
		case map[string]any:
			for key, inner := range part {
				file, isText := inner.(string)
				if key != "$ref" || !isText {
					add(inner)
					continue
				}
				if strings.HasPrefix(file, "#") {
					continue
				}
				part[key] = schemaBase + file
				file, _, _ = strings.Cut(file, "#")
				if _, seen := bundled[file]; seen {
					continue
				}
				other := schemaFile(file)
				bundled[file] = other
				add(other)
			}
		}
	}
	add(main)
	if len(bundled) == 0 {
		return main
	}
	if own, ok := main["$defs"].(map[string]any); ok {
		for name, schema := range own {
			bundled[name] = schema
		}
	}
	main["$defs"] = bundled
	return main
}

func schemaFile(file string) map[string]any {
	content, err := schemaFiles.ReadFile("schema/" + file)
	if err != nil {
		panic("minim: no schema " + file)
	}
	var schema map[string]any
	if err := json.Unmarshal(content, &schema); err != nil {
		panic("minim: schema " + file + ": " + err.Error())
	}
	return schema
}
