package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/ask"
	"example.com/closefit/examples/kit/ask/schema"
)

// An example is a question's object and its answer.
type example struct {
	request json.RawMessage
	answer  json.RawMessage
}

// describe makes the description of a set of questions, as OpenAPI 3.1, from the schema of their types.
func describe(set ask.Set, examples map[string]example) ([]byte, error) {
	var all struct {
		Defs map[string]json.RawMessage `json:"$defs"`
	}
	const here, there = `"#/$defs/`, `"#/components/schemas/`
	if err := json.Unmarshal(bytes.ReplaceAll(schema.JSON, []byte(here), []byte(there)), &all); err != nil {
		return nil, err
	}
	delete(all.Defs, "Question")
	delete(all.Defs, "Reply")
	ref := func(name string) any { return map[string]string{"$ref": "#/components/schemas/" + name} }
	version := map[string]any{"const": 1, "description": "the version of the form"}
	object := func(key string, of any) any {
		return map[string]any{"type": "object", "properties": map[string]any{"closefit": version, key: of}, "required": []string{"closefit", key}, "additionalProperties": false}
	}
	body := func(of any) map[string]any {
		return map[string]any{"application/json": map[string]any{"schema": of}}
	}
	refusals := func(statuses ...string) map[string]any {
		m := map[string]any{}
		for _, s := range statuses {
			m[s] = map[string]string{"$ref": "#/components/responses/" + s}
		}
		return m
	}
	paths := map[string]any{}
	for _, q := range set {
		name := definition(q.Request)
		asked, err := withVersion(all.Defs[name])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", q.Name, err)
		}
		all.Defs[name] = asked
		request, answered := body(ref(name)), body(object("answer", ref(definition(q.Reply))))
		if x, is := examples[q.Name]; is {
			request["application/json"].(map[string]any)["example"] = x.request
			answered["application/json"].(map[string]any)["example"] = x.answer
		}
		answers := refusals("400", "405", "408", "413", "415", "421", "422", "429", "500", "503")
		answers["200"] = map[string]any{"description": "the answer", "content": answered}
		paths["/v1/"+q.Name] = map[string]any{"post": map[string]any{
			"operationId": q.Name, "summary": q.Does, "description": fmt.Sprintf("A body may have %d bytes.", most[q.Name]),
			"requestBody": map[string]any{"required": true, "content": request}, "responses": answers,
		}}
	}
	look := func(id, summary string, of map[string]any, more ...string) any {
		answers := refusals(append(more, "405", "421")...)
		answers["200"] = map[string]any{"description": "it is so", "content": of}
		return map[string]any{"get": map[string]any{"operationId": id, "summary": summary, "responses": answers}}
	}
	well := body(object("answer", map[string]any{"type": "object", "properties": map[string]any{"well": map[string]any{"const": true}}, "required": []string{"well"}, "additionalProperties": false}))
	paths["/healthz"] = look("health", "It is alive.", well)
	paths["/readyz"] = look("ready", "It takes questions, and is not about to stop.", well, "503")
	paths["/openapi.json"] = look("describe", "This description.", body(map[string]any{"type": "object"}))
	responses := map[string]any{}
	for status, says := range map[string]string{
		"400": "no JSON, or not of the exchange form", "405": "another method", "408": "a body that came too slowly", "413": "a body that is too long", "415": "not application/json", "421": "another host than this machine, where only this machine is served",
		"422": "of the right form, and without an answer", "429": "as many as may wait are waiting", "500": "a defect of closefit", "503": "it is stopping, or the answer took too long",
	} {
		responses[status] = map[string]any{"description": says, "content": body(ref("Refused"))}
	}
	refused, err := json.Marshal(object("error", ref("Refusal")))
	if err != nil {
		return nil, err
	}
	all.Defs["Refused"] = refused
	text, err := json.MarshalIndent(map[string]any{
		"openapi": "3.1.0",
		"info": map[string]any{
			"title": "closefit", "version": "1",
			"description": "Questions about the bottom end of an engine, and their answers, in the exchange form: quantities are texts with a unit, what there is not is null, and a key that is missing, unknown or there twice is an error.\n\nThe engine maker's manual and licensed practice come first: closefit holds no maker's limits, you bring them. Plans and records hold cautions; show them with the work.\n\nAnother path has the status 404, with a body like every other refusal. A request that is no HTTP, or whose head is too long, is answered by 400 or 431 in plain text.",
		},
		"paths":      paths,
		"components": map[string]any{"schemas": all.Defs, "responses": responses},
	}, "", "  ")
	return append(text, '\n'), err
}

// definition is the name of a type in the schema.
func definition(t reflect.Type) string {
	name, _, _ := strings.Cut(t.Name(), "[")
	return name
}

// withVersion returns the schema of an object that has "closefit" as well.
func withVersion(text json.RawMessage) (json.RawMessage, error) {
	var o struct {
		Description          string          `json:"description"`
		Type                 string          `json:"type"`
		Properties           json.RawMessage `json:"properties"`
		Required             []string        `json:"required"`
		AdditionalProperties bool            `json:"additionalProperties"`
	}
	if err := json.Unmarshal(text, &o); err != nil {
		return nil, err
	}
	o.Required = slices.Concat([]string{"closefit"}, o.Required)
	o.Properties = append([]byte(`{"closefit":{"const":1,"description":"the version of the form"},`), bytes.TrimPrefix(o.Properties, []byte("{"))...)
	return json.Marshal(o)
}
