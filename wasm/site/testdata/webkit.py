"""A window of WebKitGTK whose store outlives it, driven by lines of JSON.

webkit.py PROFILE reads {"visit": URL}, {"reload": true} or {"js": BODY}, one a line, and answers each with one
line: what the function of that body gave. WebKitWebDriver has no profile that stays.
"""
import json
import os
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2  # noqa: E402

profile = sys.argv[1]
manager = WebKit2.WebsiteDataManager(
    base_data_directory=os.path.join(profile, "data"), base_cache_directory=os.path.join(profile, "cache"))
view = WebKit2.WebView.new_with_context(WebKit2.WebContext.new_with_website_data_manager(manager))
window = Gtk.Window(default_width=390, default_height=844)
window.add(view)
window.show_all()


def say(answer):
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


waiting = False


def loaded(_, event):
    global waiting
    if waiting and event == WebKit2.LoadEvent.FINISHED:
        waiting = False
        say('{"value":null}')


def failed(_, _event, uri, error):
    global waiting
    if waiting:
        waiting = False
        say(json.dumps({"error": f"{uri}: {error.message}"}))
    return False


def ran(v, result):
    try:
        say(v.call_async_javascript_function_finish(result).to_string())
    except GLib.Error as e:
        say(json.dumps({"error": e.message}))


def line(source, _):
    global waiting
    text = source.readline()
    if not text:
        Gtk.main_quit()
        return False
    order = json.loads(text)
    if "js" in order:
        view.call_async_javascript_function(order["js"], -1, None, None, None, None, ran)
    else:
        waiting = True
        if "visit" in order:
            view.load_uri(order["visit"])
        else:
            view.reload()
    return True


view.connect("load-changed", loaded)
view.connect("load-failed", failed)
GLib.io_add_watch(sys.stdin.fileno(), GLib.PRIORITY_DEFAULT, GLib.IO_IN | GLib.IO_HUP, lambda *_: line(sys.stdin, None))
Gtk.main()
