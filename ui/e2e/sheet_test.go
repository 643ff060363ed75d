package e2e

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/sheet"
	"cellar.local/glassrow/ui/uitest"
)

// sheetOf is the sheet of a batch of the demo cellar.
func sheetOf(t *testing.T, name string) sheet.Sheet {
	t.Helper()
	_, vessels, batches, err := data.Demo(evening)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range batches {
		if b.Name != name {
			continue
		}
		b.ID = model.BatchID(i + 1)
		src := sheet.Source{Batch: b, Now: evening, Labels: func(id model.VesselID) string { return labelOf(vessels, id) },
			Larder: model.Larder{Sweeteners: read(t, data.Sweeteners), Fruits: read(t, data.Fruits)}, Sorbate: read(t, data.Sorbate)}
		if src.State, err = model.Replay(b, evening); err != nil {
			t.Fatal(err)
		}
		src.Outlook, _ = model.Foresee(b, evening)
		return sheet.New(src)
	}
	t.Fatalf("no batch %q in the demo cellar", name)
	return sheet.Sheet{}
}

func labelOf(vessels []model.Vessel, id model.VesselID) string {
	for _, v := range vessels {
		if v.ID == id {
			return v.Label
		}
	}
	return ""
}

// Ensure that sheets look as they did when somebody last looked at them: a mead on its
// way, with a forecast, and a wine in bottles.
func TestSheet_Golden(t *testing.T) {
	for _, name := range []string{"Heather-honey mead", "Quince wine"} {
		s := sheetOf(t, name)
		t.Run(name+"/markdown", func(t *testing.T) { golden(t, s.Markdown()) })
		t.Run(name+"/html", func(t *testing.T) { golden(t, page(t, s)) })
	}
}

func page(t *testing.T, s sheet.Sheet) string {
	t.Helper()
	text, err := s.HTML()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// Ensure that the page says what the Markdown says: every cell and every line of it.
func TestSheet_BothSayTheSame(t *testing.T) {
	s := sheetOf(t, "Quince wine")
	shown := textOf(t, page(t, s))
	for _, sec := range s.Sections {
		said := append(append([]string{sec.Title}, sec.Text...), sec.Items...)
		for _, row := range sec.Table.Rows {
			said = append(said, row...)
		}
		for _, text := range said {
			if !strings.Contains(shown, text) {
				t.Errorf("the page does not say %q", text)
			}
		}
	}
}

// textOf parses a page, demands that nothing in it runs or is fetched, and returns
// what can be read.
func textOf(t *testing.T, source string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(source))
	if err != nil {
		t.Fatal(err)
	}
	allowed := "html head meta title style body h1 h2 p ul li dl dt dd table thead tbody tr th td section figure figcaption footer svg line path text polyline polygon circle"
	var b strings.Builder
	for _, fetches := range []string{"url(", "@import", "@font-face"} {
		if strings.Contains(strings.ToLower(source), fetches) {
			t.Errorf("the page holds %s", fetches)
		}
	}
	for n := range doc.Descendants() {
		switch n.Type {
		case html.TextNode:
			b.WriteString(n.Data + "\n")
		case html.ElementNode:
			if !contains(strings.Fields(allowed), n.Data) {
				t.Errorf("the page has an element <%s>", n.Data)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "src" || a.Key == "href" || a.Key == "style" {
					t.Errorf("<%s> has %s=%q", n.Data, a.Key, a.Val)
				}
			}
		}
	}
	return b.String()
}

// Ensure that on paper a page neither begins in the middle of a day nor breaks a short
// table, that each says of which lot it is, and that a dark screen leaves paper alone.
func TestSheet_Paged(t *testing.T) {
	s := sheetOf(t, "Quince wine")
	doc, err := html.Parse(strings.NewReader(page(t, s)))
	if err != nil {
		t.Fatal(err)
	}
	class := func(n *html.Node) string {
		for _, a := range n.Attr {
			if a.Key == "class" {
				return a.Val
			}
		}
		return ""
	}
	var long []string
	style := ""
	for n := range doc.Descendants() {
		switch n.Data {
		case "style":
			style = n.FirstChild.Data
		case "section":
			if class(n) == "long" {
				for h := range n.Descendants() {
					if h.Data == "h2" {
						long = append(long, h.FirstChild.Data)
					}
				}
			}
		case "tr":
			first := n.FirstChild
			if dated := first.FirstChild != nil; dated == (class(n) == "same") {
				t.Errorf("a row that begins with a date: %v, is of class %q", dated, class(n))
			}
		}
	}
	if len(long) != 1 || long[0] != "Journal" {
		t.Errorf("pages may break within %q, want the journal alone", long)
	}
	for _, want := range []string{"lot " + s.Lot, "counter(page)", "@media screen and (prefers-color-scheme: dark)", "tr.same { break-before: avoid; }", "section { break-inside: avoid; }"} {
		if !strings.Contains(style, want) {
			t.Errorf("the style does not say %q", want)
		}
	}
}

// Ensure that the sheet of a part says what it was split from, and where on the curve.
func TestSheet_OfAPart(t *testing.T) {
	for _, want := range []string{"split from Quince wine, 4.6 L into S3", "t split off", "600 mL drawn off, into Quince wine", "0 of 5 bottles left"} {
		if markdown := sheetOf(t, "Dry quince").Markdown(); !strings.Contains(markdown, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, markdown)
		}
	}
}

// Ensure that the sheet is written beside the cellar from the journal, that one already
// there is asked about, and that a failure is told.
func TestSheet_FromTheJournal(t *testing.T) {
	path := newDemo(t)
	s := openAt(t, path, &clock{evening}, 80, 24)
	files := map[string]string{}
	var broken error
	o := options(t, s.clock)
	o.Store = s.store
	o.SaveBeside = func(name string, content []byte, over bool) (string, error) {
		if _, there := files[name]; there && !over {
			return "", fs.ErrExist
		}
		if broken != nil {
			return "", broken
		}
		files[name] = string(content)
		return "/cellar/" + name, nil
	}
	d := uitest.Start(t, ui.New(o), 80, 24)
	d.Press("l", "p").See("written to /cellar/L2026-")
	if len(files) != 1 {
		t.Fatalf("%d files were written", len(files))
	}
	for name, content := range files {
		if !strings.Contains(content, "Sea-buckthorn mead") || !strings.HasSuffix(name, ".html") {
			t.Errorf("%s holds %.80s", name, content)
		}
		files[name] = "an older one"
		d.Press("p").See("Write over it?").Press("n")
		if files[name] != "an older one" {
			t.Errorf("it was written over unasked")
		}
		d.Press("p", "y").See("written to")
		if files[name] == "an older one" {
			t.Errorf("it was not written over")
		}
		delete(files, name)
	}
	broken = errors.New("disk full; make room")
	d.Press("p").See("not written: disk full; make room")
}

// Ensure that nothing people typed gets out of its place in either writing.
func TestSheet_HostileWords(t *testing.T) {
	nasty := "<script>alert(1)</script> | `x` **b** [a](http://x.y) # h & &lt; \x1b[31m\u202e <!-- </table></svg>"
	i, err := calc.NewIngredient(nasty, map[calc.Component]calc.Gram{calc.Sucrose: 100})
	if err != nil {
		t.Fatal(err)
	}
	entry := func(n int, b model.Body) model.Entry {
		return model.Entry{ID: model.EntryID(n), At: evening.AddDate(0, 0, n-40), Recorded: evening, Body: b}
	}
	b := model.Batch{ID: 3, Name: "# " + nasty, Drink: model.Wine, Entries: []model.Entry{
		entry(1, model.Must{Vessel: 1, Volume: 5, Gravity: 1.08, Ingredients: []model.Portion{{Ingredient: i, Mass: 900}}}),
		entry(2, model.Pitch{Yeast: model.WineYeast, Name: nasty}),
		entry(9, model.Reading{Gravity: 1.02, Scale: model.ScaleSG, Calibration: 20, Note: nasty}),
		entry(10, model.Note{Text: "1. " + nasty}), entry(11, model.Note{Text: nasty + "\n\n# heading\n| a | b |"}),
		entry(12, model.Addition{Portion: model.Portion{Ingredient: i, Mass: 9}, Purpose: nasty}),
	}}
	src := sheet.Source{Batch: b, Now: evening, Labels: func(model.VesselID) string { return nasty }}
	if src.State, err = model.Replay(b, evening); err != nil {
		t.Fatal(err)
	}
	s := sheet.New(src)
	if shown := textOf(t, page(t, s)); !strings.Contains(shown, "<script>alert(1)</script>") {
		t.Errorf("the page does not show the words as they are:\n%s", shown)
	}
	markdown := s.Markdown()
	for _, not := range []string{"\x1b", "\u202e", "[a]("} {
		if strings.Contains(markdown, not) {
			t.Errorf("the Markdown holds %q", not)
		}
	}
	for line := range strings.SplitSeq(markdown, "\n") {
		for at, r := range line {
			if (r == '<' || r == '`') && (at == 0 || line[at-1] != '\\') && !strings.HasPrefix(line, "```") {
				t.Errorf("%q holds an open %c", line, r)
			}
		}
	}
	evenTables(t, markdown)
}

// Ensure that every table of Markdown has as many cells in each row as its head.
func TestSheet_EvenTables(t *testing.T) {
	for _, name := range []string{"Heather-honey mead", "Quince wine", "Plum wine", "Oat stout"} {
		evenTables(t, sheetOf(t, name).Markdown())
	}
}

func evenTables(t *testing.T, markdown string) {
	t.Helper()
	columns, rows := 0, 0
	code := false
	for line := range strings.SplitSeq(markdown, "\n") {
		if strings.HasPrefix(line, "```") {
			code = !code
		}
		if code || !strings.HasPrefix(line, "|") {
			columns = 0
			continue
		}
		n := strings.Count(line, "|") - strings.Count(line, `\|`)
		if columns != 0 && n != columns {
			t.Errorf("%q has %d bars, the row before %d", line, n, columns)
		}
		columns, rows = n, rows+1
	}
	if rows < 10 {
		t.Errorf("only %d rows of tables were found", rows)
	}
}
