"""What every screen is made of: palette, fonts, drawing, buttons; and ``tr`` in every kv file."""

from kivy.lang.parser import global_idmap

from evaltrack.language import tr, tr_many

# each kv file would otherwise begin with the same two lines
global_idmap.update(tr=tr, tr_many=tr_many)
