// SPDX-License-Identifier: GPL-3.0-or-later
// Sums for vectors of SEAMWRIGHT_VECTOR_BYTES. loops.cpp includes it once for each set of instructions, hence no
// guard.

using Vector [[gnu::vector_size(SEAMWRIGHT_VECTOR_BYTES)]] = double;

inline Vector loaded(const double* from) {
  Vector v;
  std::memcpy(&v, from, sizeof v);
  return v;
}

void add_up(const Sums& sums, const double* parts, std::size_t stride, std::size_t samples, double* out) {
  constexpr std::size_t width = SEAMWRIGHT_VECTOR_BYTES / sizeof(double), step = 2 * width;
  static_assert(row_step % step == 0);
  for (std::size_t t = 0; t < samples; t += step) {
    Vector sum[sums_together][2];
    for (std::size_t i = 0; i < sums_together; ++i) sum[i][0] = sum[i][1] = Vector{} + sums.offset[i];
    for (std::size_t k = 0; k < sums.parts; ++k) {
      const double* const part = parts + k * stride + t;
      const double* const weight = sums.weights + k * sums_together;
      const Vector first = loaded(part), second = loaded(part + width);
      for (std::size_t i = 0; i < sums_together; ++i) {
        sum[i][0] += first * weight[i];
        sum[i][1] += second * weight[i];
      }
    }
    for (std::size_t i = 0; i < sums_together; ++i) std::memcpy(out + i * stride + t, sum[i], sizeof sum[i]);
  }
}
