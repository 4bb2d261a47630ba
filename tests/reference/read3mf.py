"""Reads a 3MF file with lib3mf, the consortium's own library (Debian: lib3mf1), and prints what it holds as JSON."""
import ctypes
import json
import sys


def library():
    return ctypes.CDLL('lib3MF.so.1')


def check(code, what):
    if code != 0:
        raise SystemExit(f'lib3mf refused at {what}: 0x{code & 0xFFFFFFFF:08x}')


def main(path):
    lib = library()

    def call(name, *arguments):
        check(getattr(lib, f'lib3mf_{name}')(*arguments), name)

    def handle(name, *arguments):
        out = ctypes.c_void_p()
        call(name, *arguments, ctypes.byref(out))
        return out

    def number(name, of):
        out = ctypes.c_uint32()
        call(name, of, ctypes.byref(out))
        return out.value

    model = handle('createmodel')
    reader = handle('model_queryreader', model, b'3mf')
    call('reader_setstrictmodeactive', reader, True)
    call('reader_readfromfileutf8', reader, path.encode())
    warnings = number('reader_getwarningcount', reader)
    found = []
    objects = handle('model_getmeshobjects', model)
    more = ctypes.c_bool()
    while True:
        call('resourceiterator_movenext', objects, ctypes.byref(more))
        if not more.value:
            break
        mesh = handle('resourceiterator_getcurrent', objects)
        whole = ctypes.c_bool()
        call('meshobject_ismanifoldandoriented', mesh, ctypes.byref(whole))
        found.append(
            {
                'vertices': number('meshobject_getvertexcount', mesh),
                'triangles': number('meshobject_gettrianglecount', mesh),
                'closed': whole.value,
            }
        )
    print(json.dumps({'warnings': warnings, 'unit': number('model_getunit', model), 'meshes': found}))


main(sys.argv[1]) if len(sys.argv) > 1 else library()
