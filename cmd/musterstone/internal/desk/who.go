package desk

import (
	"fmt"
	"net/http"
	"net/url"
)

// reviewer is the name that the person gave, "" where none.
func reviewer(r *http.Request) string {
	c, err := r.Cookie(reviewerCookie)
	if err != nil {
		return ""
	}
	name, err := url.QueryUnescape(c.Value)
	if err != nil {
		return ""
	}
	return cleanName(name)
}

func keysOn(r *http.Request) bool {
	c, err := r.Cookie(keysCookie)
	return err != nil || c.Value != "off"
}

// askWho sends the person to give a name first.
func (d *Desk) askWho(w http.ResponseWriter, r *http.Request, back string) error {
	http.Redirect(w, r, "/who?back="+url.QueryEscape(back), http.StatusSeeOther)
	return nil
}

// whoView is what the page that asks for a name shows.
type whoView struct{ Back, Name, Fault string }

// whoPage asks the reviewer's name.
func (d *Desk) whoPage(w http.ResponseWriter, r *http.Request) error {
	return d.render(w, http.StatusOK, "who", d.frame(r, "Who decides?", "who", whoView{Back: ownPath(r.URL.Query().Get("back")), Name: reviewer(r)}))
}

func (d *Desk) setWho(w http.ResponseWriter, r *http.Request) error {
	back := ownPath(r.PostForm.Get("back"))
	name := cleanName(r.PostForm.Get("name"))
	if name == "" {
		return d.render(w, http.StatusUnprocessableEntity, "who", d.frame(r, "Who decides?", "who",
			whoView{Back: back, Fault: fmt.Sprintf("Please give a name, of at most %d letters.", maxName)}))
	}
	setCookie(w, reviewerCookie, url.QueryEscape(name), 365*24*3600)
	http.Redirect(w, r, back, http.StatusSeeOther)
	return nil
}

func (d *Desk) keysPage(w http.ResponseWriter, r *http.Request) error {
	return d.render(w, http.StatusOK, "keys", d.frame(r, "Keys", "keys", nil))
}

// setKeys turns the keys of single letters on or off.
func (d *Desk) setKeys(w http.ResponseWriter, r *http.Request) error {
	value := "off"
	if r.PostForm.Get("keys") == "on" {
		value = "on"
	}
	setCookie(w, keysCookie, value, 365*24*3600)
	http.Redirect(w, r, "/keys", http.StatusSeeOther)
	return nil
}
