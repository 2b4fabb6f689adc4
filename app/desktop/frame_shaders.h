// SPDX-License-Identifier: GPL-3.0-or-later
// The programs of the graphics card for the frame. One text for desktop and small devices; the first lines,
// dialect and whether a section is on, are put before it.
#pragma once

namespace seamwright::desktop::shaders {

// Light is worked out at the corners: tubes are finely divided, and a processor that stands in for a card has
// ten times as many pixels as corners. paint: stress, faded, chosen, of a weld.
constexpr const char* body_corner = R"(
uniform mat4 u_clip;
uniform mat3 u_axes;
uniform float u_motion;
uniform vec4 u_kept;
uniform vec3 u_lit, u_dim, u_bead, u_sheet, u_steel, u_pale, u_deep;
uniform float u_stressed;
in vec3 a_place, a_normal, a_move;
in vec4 a_paint;
out vec3 v_colour;
#ifdef SECTION
out vec3 v_inside;
out float v_beyond;
#endif
void main() {
  vec3 place = a_place + u_motion * a_move;
  vec3 normal = u_axes * a_normal;
  float light = clamp(dot(normal, vec3(-0.35, 0.55, 0.757)), 0.0, 1.0);
  vec3 steel = mix(u_dim, u_lit, light);
  steel = mix(steel, mix(u_bead * 0.8, u_bead, light), a_paint.w);
  vec3 stressed = mix(u_pale, u_deep, a_paint.x) * (0.72 + 0.28 * light);
  vec3 colour = mix(steel, stressed, u_stressed * (1.0 - a_paint.w));
  colour = mix(colour, u_steel * (0.75 + 0.25 * light), 0.4 * a_paint.z);
  v_colour = mix(colour, u_sheet, 0.72 * a_paint.y);
#ifdef SECTION
  v_inside = mix(u_dim, u_sheet, 0.72 * a_paint.y);
  v_beyond = dot(u_kept.xyz, place) - u_kept.w;
#endif
  gl_Position = u_clip * vec4(place, 1.0);
}
)";

// The inner side of a surface is only seen behind the plane: that is cut steel, and hatched as on a drawing.
constexpr const char* body_pixel = R"(
uniform vec3 u_ink;
in vec3 v_colour;
#ifdef SECTION
in vec3 v_inside;
in float v_beyond;
#endif
out vec4 o_colour;
void main() {
  vec3 colour = v_colour;
#ifdef SECTION
  if (v_beyond > 0.0) discard;
  if (!gl_FrontFacing)
    colour = mod(gl_FragCoord.x + gl_FragCoord.y, 6.0) < 1.5 ? mix(v_inside, u_ink, 0.6) : v_inside;
#endif
  o_colour = vec4(colour, 1.0);
}
)";

constexpr const char* band_corner = R"(
uniform mat4 u_clip;
uniform mat3 u_axes;
uniform float u_motion;
uniform vec4 u_kept;
uniform vec3 u_sheet, u_pale, u_deep, u_faint;
uniform float u_faded;
in vec3 a_place, a_normal, a_move;
in vec4 a_pattern;
out vec3 v_colour;
out vec3 v_pattern;
out float v_beyond;
void main() {
  vec3 place = a_place + u_motion * a_move;
  float light = clamp(dot(u_axes * a_normal, vec3(-0.35, 0.55, 0.757)), 0.0, 1.0);
  vec3 colour = a_pattern.w > 1.5 ? u_faint : mix(u_pale, u_deep, a_pattern.z);
  v_colour = mix(colour * (0.85 + 0.15 * light), u_sheet, 0.72 * u_faded);
  v_pattern = vec3(a_pattern.xy, a_pattern.w);
  v_beyond = dot(u_kept.xyz, place) - u_kept.w;
  gl_Position = u_clip * vec4(place, 1.0);
}
)";

// pattern: about the tube, along it, and the shape: even, with teeth, hatched.
constexpr const char* band_pixel = R"(
in vec3 v_colour;
in vec3 v_pattern;
in float v_beyond;
out vec4 o_colour;
void main() {
  if (v_beyond > 0.0) discard;
  if (v_pattern.z > 1.5) {
    if (fract(14.0 * v_pattern.x + 1.5 * v_pattern.y) > 0.45) discard;
  } else if (v_pattern.z > 0.5) {
    float wedge = abs(2.0 * fract(10.0 * v_pattern.x) - 1.0);
    if (v_pattern.y > 0.55 + 0.45 * wedge) discard;
  }
  o_colour = vec4(v_colour, 1.0);
}
)";

constexpr const char* line_corner = R"(
uniform mat4 u_clip;
uniform float u_motion;
uniform vec4 u_kept;
uniform vec3 u_sheet, u_line;
uniform float u_nearer;
in vec3 a_place, a_move;
in float a_faded;
out vec3 v_colour;
out float v_beyond;
void main() {
  vec3 place = a_place + u_motion * a_move;
  v_colour = mix(u_line, u_sheet, 0.75 * a_faded);
  v_beyond = dot(u_kept.xyz, place) - u_kept.w;
  gl_Position = u_clip * vec4(place, 1.0);
  gl_Position.z -= u_nearer;
}
)";

constexpr const char* line_pixel = R"(
uniform float u_strength;
in vec3 v_colour;
in float v_beyond;
out vec4 o_colour;
void main() {
  if (v_beyond > 0.01) discard;
  o_colour = vec4(v_colour, u_strength);
}
)";

}  // namespace seamwright::desktop::shaders
