# SPDX-License-Identifier: GPL-3.0-or-later
# Lock 3 of the layers: every header that a layer's objects pulled in must be allowed to it, and the
# engine may call only what is listed here. Usage: check_layers.py BUILD_DIR (after a build).
import glob, re, subprocess, sys

SYSTEM = {'sqlite': r'/sqlite3', 'gtk': r'/gtk-4\.0/|/gdk/|/gsk/', 'glib': r'/glib-2\.0/|/gio-unix', 'cairo': r'/cairo/|/pango-1\.0/',
          'sodium': r'/sodium'}
# layer: (own folders it may see, system packages it may see)
LAYERS = {
    'engine': (['engine'], []),
    'draw': (['draw'], ['cairo', 'glib']),  # glib comes in through pango's headers
    'store': (['engine', 'store'], ['sqlite', 'sodium']),
    'desk': (['engine', 'store', 'desk'], ['glib']),
    'report': (['engine', 'desk', 'draw', 'report'], ['glib', 'cairo']),
    'command': (['engine', 'desk', 'draw', 'report', 'command'], ['glib', 'cairo']),
    'app': (['engine', 'desk', 'draw', 'report', 'app'], ['glib', 'cairo', 'gtk']),
}
ENGINE_SYMBOLS = re.compile(
    r'^(lzq_\w+|realloc|free|mem(cpy|move|set|cmp)|str(cmp|len|ncmp)|qsort|__stack_chk_fail|__(memcpy|memmove|memset|strcpy|strncpy)_chk'
    r'|__isoc\w+|_GLOBAL_OFFSET_TABLE_|__asan\w*|__ubsan\w*|f?abs|exp|expm1|log|log1p|log10|pow|sqrt|cbrt|ceil|floor|l?l?round|trunc|rint|lrint|nearbyint'
    r'|fm(ax|in|od)|erfc?|ldexp|frexp|hypot|isnan|isinf|nan|copysign|modf|nextafter|__signbit|__fpclassify|__isnan|__isinf|__finite|bsearch'
    r'|sin|cos|tan|exp2|log2|scalbn|ilogb|lgamma|tgamma|fdim|fma)$')

bad, layer, seen = set(), None, set()
build = sys.argv[1]
deps = subprocess.run(['ninja', '-C', build, '-t', 'deps'], capture_output=True, text=True).stdout
for line in deps.splitlines():
    if line and not line[0].isspace():
        m = re.match(r'src/(\w+)/', line)
        layer = m and m.group(1)
        seen.add(layer)
        continue
    path = line.strip()
    if not path or layer not in LAYERS:
        continue
    own, system = LAYERS[layer]
    if path.startswith('/'):
        for name, pattern in SYSTEM.items():
            if name not in system and re.search(pattern, path):
                bad.add(f'{layer} must not include {path}')
    else:
        m = re.search(r'src/(\w+)/', path)
        if m and m.group(1) not in own and m.group(1) in LAYERS:
            bad.add(f'{layer} must not include {path}')
for obj in glob.glob(f'{build}/src/engine/libengine.a.p/*.o'):
    for row in subprocess.run(['nm', '-u', obj], capture_output=True, text=True).stdout.splitlines():
        symbol = row.split()[-1].split('@')[0]
        if not ENGINE_SYMBOLS.match(symbol):
            bad.add(f'engine must not call {symbol} ({obj.rsplit("/", 1)[1]})')
missing = set(LAYERS) - seen
if missing:
    bad.add('no objects seen for ' + ' '.join(sorted(missing)))
for line in sorted(bad):
    print(line)
sys.exit(bool(bad))
