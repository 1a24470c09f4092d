package main

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// onTheSystem is what the program shares with other programs of the system, which have its licences.
const onTheSystem = `The program also uses libraries of the system it runs on. They are not built into it; their licences come with them,
on Debian in the folder of each in /usr/share/doc:

  OpenCV 4        Apache-2.0, parts BSD-3-Clause
  libjpeg-turbo   IJG, BSD-3-Clause and zlib
  libstdc++, libgcc   GPL-3.0 with the GCC runtime library exception
  the C library   LGPL-2.1 or later, on systems with GNU libc
`

// printed is what leadmark licences prints: the list, then each text once.
func printed(all []part) []byte {
	var b bytes.Buffer
	b.WriteString("leadmark and what is built into it\n\n")
	for _, p := range all {
		fmt.Fprintf(&b, "  %-72s %s\n", p.label(), p.Kind)
	}
	b.WriteString("\n" + onTheSystem)
	var texts []string
	users := map[string][]string{}
	for _, p := range all {
		for _, text := range p.Texts {
			if users[text] == nil {
				texts = append(texts, text)
			}
			if !slices.Contains(users[text], p.Name) {
				users[text] = append(users[text], p.Name)
			}
		}
	}
	for _, text := range texts {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s", strings.Repeat("=", 79), strings.Join(users[text], ", "), text)
	}
	return b.Bytes()
}

// copyright is the package's copyright file in Debian's machine-readable form (version 1.0), with a
// paragraph for each module that is linked in.
func copyright(all []part) []byte {
	var b bytes.Buffer
	b.WriteString("Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/\nUpstream-Name: leadmark\n" +
		"Comment: Written by scripts/licences. The paragraphs below the first name the\n Go modules whose " +
		"code is built into the program; their files are not in\n this project's source, so their names " +
		"begin with modules/.\n" +
		" leadmark licences prints all of their licence files.\n")
	for _, p := range all {
		files := "*"
		if p.Name != "leadmark" {
			files = "modules/" + p.Name + "/*"
		}
		fmt.Fprintf(&b, "\nFiles: %s\nCopyright: %s\nLicense: %s\n", files, strings.Join(holders(p), "\n "), short(p))
		if !apacheAlone(p) {
			b.WriteString(indented(p.Texts[0]))
		}
	}
	b.WriteString("\nLicense: Apache-2.0\n On Debian systems the text of the Apache License, version 2.0, is " +
		"in\n /usr/share/common-licenses/Apache-2.0.\n")
	return b.Bytes()
}

// short is the licence's short name. A text of a module's own has a name of its own.
func short(p part) string {
	if apacheAlone(p) {
		return "Apache-2.0"
	}
	name := strings.ReplaceAll(p.Kind, "BSD-3-Clause", "BSD-3-clause")
	name = strings.ReplaceAll(strings.ReplaceAll(name, "BSD-2-Clause", "BSD-2-clause"), "MIT", "Expat")
	return strings.ReplaceAll(name, " and ", "-and-") + "~" +
		regexp.MustCompile(`[^a-zA-Z0-9.]+`).ReplaceAllString(p.Name, "-")
}

func apacheAlone(p part) bool { return p.Kind == "Apache-2.0" }

// holders are the lines of a licence that name who holds the rights.
func holders(p part) []string {
	var list []string
	line := regexp.MustCompile(`(?mi)^[\s#*]*(?:Portions )?Copyright (?:\(c\)|©)?\s*(\d{4}.*|The .*)$`)
	for _, text := range p.Texts {
		for _, m := range line.FindAllStringSubmatch(text, -1) {
			who := strings.TrimSuffix(strings.TrimSpace(m[1]), ". All rights reserved.")
			if !slices.Contains(list, who) {
				list = append(list, who)
			}
		}
	}
	if len(list) == 0 {
		list = []string{"the authors of " + p.Name}
	}
	return list
}

// indented sets a text as the body of a field. The full Apache text stands in Debian's common licences.
func indented(text string) string {
	if i := strings.Index(text, "Apache License\n"); i >= 0 {
		text = strings.TrimRight(text[:i], " \n") +
			"\n\nApache License, version 2.0: /usr/share/common-licenses/Apache-2.0\n"
	}
	var b strings.Builder
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		if strings.TrimSpace(line) == "" {
			line = "."
		}
		b.WriteString(" " + line + "\n")
	}
	return b.String()
}
