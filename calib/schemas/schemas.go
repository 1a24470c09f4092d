// Package schemas describes the documents that the program writes as JSON Schemas (draft 2020-12),
// made from the Go types that write them. They are written to docs/schemas when the project is
// generated, and go out with the program.
package schemas

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"leadmark/calib/plan"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/shoot"
)

// All returns the schema of each document by what its "schema" key says, such as
// "leadmark/result/1".
func All() (map[string]*jsonschema.Schema, error) {
	out := map[string]*jsonschema.Schema{}
	for key, document := range documents() {
		s, err := of(key, document)
		if err != nil {
			return nil, fmt.Errorf("the schema of %s: %w", key, err)
		}
		out[key] = s
	}
	return out, nil
}

func documents() map[string]reflect.Type {
	return map[string]reflect.Type{
		record.Schema:          reflect.TypeFor[record.Document](),
		record.FirstPlanSchema: reflect.TypeFor[record.FirstPlan](),
		record.PictureSchema:   reflect.TypeFor[record.Picture](),
		plan.Schema:            reflect.TypeFor[plan.Document](),
		shoot.Schema:           reflect.TypeFor[shoot.Document](),
		rig.ShownSchema:        reflect.TypeFor[rig.ShownDocument](),
		rig.ListSchema:         reflect.TypeFor[rig.ListDocument](),
		rig.HistorySchema:      reflect.TypeFor[rig.HistoryDocument](),
		rig.ComparisonSchema:   reflect.TypeFor[rig.ComparisonDocument](),
	}
}

func of(key string, document reflect.Type) (*jsonschema.Schema, error) {
	description, err := jsonschema.ForType(rig.DescriptionKeys(), nil)
	if err != nil {
		return nil, err
	}
	s, err := jsonschema.ForType(document, &jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[rig.Description](): description,
	}})
	if err != nil {
		return nil, err
	}
	s.Schema = "https://json-schema.org/draft/2020-12/schema"
	s.Title = key
	s.Properties["schema"] = &jsonschema.Schema{Const: jsonschema.Ptr[any](key)}
	optional := throughPointers(document)
	s.Required = slices.DeleteFunc(s.Required, func(name string) bool { return slices.Contains(optional, name) })
	return s, nil
}

// throughPointers names the keys that an embedded pointer brings, which are absent with it.
func throughPointers(t reflect.Type) []string {
	var names []string
	for f := range t.Fields() {
		if !f.Anonymous {
			continue
		}
		in := f.Type
		if in.Kind() == reflect.Pointer {
			for g := range in.Elem().Fields() {
				name, _, _ := strings.Cut(g.Tag.Get("json"), ",")
				names = append(names, name)
			}
		} else if in.Kind() == reflect.Struct {
			names = append(names, throughPointers(in)...)
		}
	}
	return names
}

// FileName is the name of a schema's file, such as "result-1.schema.json" of "leadmark/result/1".
func FileName(key string) string {
	name := strings.TrimPrefix(key, "leadmark/")
	return strings.ReplaceAll(name, "/", "-") + ".schema.json"
}
