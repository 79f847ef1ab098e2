package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"path/filepath"
	"strings"

	"minim/solver"
)

var cardCommand = command{
	name:     "card",
	synopsis: "card FILE",
	summary:  "a drink as a page, or a folder as a book",
	about: `Writes a drink as one page of HTML that stands by itself, for A5 paper and for
a phone, light or dark: the build with its amounts, glass, ice and finish;
target against got, each property on its own JND scale; strength and dilution
in the glass over twenty minutes; allergens and cautions; a small batch table.
Open pours are solved first, as design does. Of a folder it makes a book: an
index and a card for each spec in it. The page loads nothing and runs nothing.
Without --out it is printed.`,
	example: `minim card examples/morning-tide.yaml --out card.html`,
	schema:  "card",
	flags: func(f *flags) {
		f.outFlag("write the page into `FILE` instead of printing it" + replacesFile)
		f.set.StringVar(&f.svg, "svg", "", "draw target against got alone into `FILE`, as SVG; without --out no page is written")
		f.costFlags()
		f.set.StringVar(&f.rocks, "rocks", "", "`MASS` of ice in the glass, such as 150g, or none; unsaid, none and 120 g are set side by side")
		f.set.StringVar(&f.name, "name", "", "the `NAME` of a book; unsaid, that of its folder")
	},
	run: writeCards,
}

// errPictureOfABook is returned for the picture of a folder.
var errPictureOfABook = errors.New("--svg draws one drink; expected a FILE, or `minim compare FOLDER --svg menu.svg`")

func writeCards(f *flags, s streams) error {
	book, err := f.readCards(s)
	if err != nil {
		return err
	}
	if err := f.checkPicture(book.files...); err != nil {
		return err
	}
	if f.svg != "" && book.Book {
		return errPictureOfABook
	}
	if f.out == "-" {
		f.out = ""
	}
	if err := f.notOverRead(f.out, book.files...); err != nil {
		return err
	}
	var page bytes.Buffer
	if err := cardTemplate.Execute(&page, book); err != nil {
		return err
	}
	if err := f.writeCardFiles(book, page.Bytes(), s); err != nil {
		return err
	}
	return book.remark(s.err)
}

// writeCardFiles writes the files asked for and says so, or prints what was
// asked for where that is no file.
func (f *flags) writeCardFiles(book *cardBook, page []byte, s streams) error {
	var said strings.Builder
	if f.svg != "" {
		if err := writeFile(f.svg, book.Cards[0].aim.write); err != nil {
			return err
		}
		fmt.Fprintf(&said, "%s drawn in %s.\n", book.Title, f.svg)
	}
	if f.out != "" {
		if err := writeFile(f.out, func(w io.Writer) error {
			_, err := w.Write(page)
			return err
		}); err != nil {
			return err
		}
		what := "the card of " + book.Title
		if book.Book {
			what = "a book of " + countOf(len(book.Cards), "drink")
		}
		fmt.Fprintf(&said, "%s\n", wrap(fmt.Sprintf("%s holds %s.", f.out, what), lineWidth))
	}
	var err error
	switch {
	case f.json:
		err = writeCardJSON(s.out, book)
	case f.svg != "" || f.out != "":
		_, err = io.WriteString(s.out, said.String())
	default:
		_, err = s.out.Write(page)
	}
	if err != nil {
		return &writeError{err}
	}
	return nil
}

//go:embed card.html
var cardHTML string

// cardTemplate is the page. It is filled with values only, which html/template
// escapes for the place they stand in; pictures are the one exception, see
// pictureMarkup.
var cardTemplate = template.Must(template.New("page").Parse(cardHTML))

// markup is what the template writes as it stands.
type markup = template.HTML

// pictureMarkup is a picture as a part of a page. It is the only markup that does
// not go through the template's own escaping: all of it was written by picture,
// which escapes every word that it is given and writes numbers with two decimals.
func pictureMarkup(p *picture) (markup, error) {
	var b strings.Builder
	if err := p.write(&b); err != nil {
		return "", err
	}
	return markup(b.String()), nil
}

// readCards reads the file or the folder that was named, solves what is open, and
// lays out the cards.
func (f *flags) readCards(s streams) (*cardBook, error) {
	if len(f.args) != 1 {
		return nil, fmt.Errorf("%d files named; expected one, or a folder of specs, or - for standard input", len(f.args))
	}
	sips, err := f.servings()
	if err != nil {
		return nil, err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return nil, err
	}
	name := f.args[0]
	book, files := &cardBook{Book: isFolder(name)}, []string{name}
	if book.Book {
		if files, err = specsIn(name); err != nil {
			return nil, err
		}
	}
	var drinks []*solver.Answer
	for _, file := range files {
		a, _, err := f.finish(file, book.Book, shelf, s)
		switch {
		case err != nil && book.Book:
			book.skipped = append(book.skipped, skippedFile{file, err})
			continue
		case err != nil:
			return nil, err
		}
		drinks, book.files = append(drinks, a), append(book.files, file)
	}
	if len(drinks) == 0 {
		return nil, fmt.Errorf("no drink in %s; expected specs, files that end in .yaml", name)
	}
	names := []string{drinkName(drinks[0])}
	if book.Book {
		names = drinkNames(drinks, book.files)
	}
	for n, a := range drinks {
		c, err := newCard(a, f.liquidUnit(a.Spec), sips, &f.cost)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", book.files[n], err)
		}
		c.Number, c.Name, c.InBook = n+1, printable(names[n]), book.Book
		book.Cards = append(book.Cards, c)
	}
	book.Title = book.Cards[0].Name
	if book.Book {
		book.Title = bookTitle(f.name, name)
	}
	return book, nil
}

// bookTitle is the name given, else that of the folder.
func bookTitle(name, folder string) string {
	if name != "" {
		return printable(name)
	}
	if whole, err := filepath.Abs(folder); err == nil {
		folder = whole
	}
	return printable(filepath.Base(folder))
}
