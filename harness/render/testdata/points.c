/* Prints a glyph's points as FreeType's TrueType interpreter, version 35, leaves
   them for mono drawing, in 26.6 px, one a line.
   usage: points FONT PPEM_X PPEM_Y GLYPH; the ppem in 26.6 */
#include <stdio.h>
#include <stdlib.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_MODULE_H

int main(int argc, char **argv) {
  FT_Library lib;
  FT_Face face;
  FT_UInt version = 35;
  if (argc < 5 || FT_Init_FreeType(&lib) || FT_Property_Set(lib, "truetype", "interpreter-version", &version) ||
      FT_New_Face(lib, argv[1], 0, &face))
    return 1;
  FT_Size_RequestRec r = {FT_SIZE_REQUEST_TYPE_NOMINAL, atoi(argv[2]), atoi(argv[3]), 0, 0};
  if (FT_Request_Size(face, &r) || FT_Load_Glyph(face, atoi(argv[4]), FT_LOAD_TARGET_MONO | FT_LOAD_NO_BITMAP | FT_LOAD_NO_AUTOHINT)) return 1;
  FT_Outline *o = &face->glyph->outline;
  for (int i = 0; i < o->n_points; i++) printf("%ld %ld\n", o->points[i].x, o->points[i].y);
  return 0;
}
