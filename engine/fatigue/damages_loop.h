// SPDX-License-Identifier: GPL-3.0-or-later
// Damage of ranges for vectors of SEAMWRIGHT_VECTOR_BYTES: from the low piece of the law to the high one, each taking
// over above its knee. damages.cpp includes it once for each set of instructions, hence no guard. Gives how many
// ranges it has done: whole vectors.

std::size_t damages(const std::vector<DamageLaw::Piece>& pieces, double cutoff_mpa, const double* ranges, std::size_t size,
                    double* out) {
  using Vector [[gnu::vector_size(SEAMWRIGHT_VECTOR_BYTES)]] = double;
  constexpr std::size_t width = SEAMWRIGHT_VECTOR_BYTES / sizeof(double);
  std::size_t i = 0;
  for (; i + width <= size; i += width) {
    Vector range;
    std::memcpy(&range, ranges + i, sizeof range);
    Vector damage{};
    for (auto piece = pieces.rbegin(); piece != pieces.rend(); ++piece) {
      Vector power = Vector{} + 1;
      for (int k = 0; k < piece->whole_slope; ++k) power *= range;
      damage = range < piece->above_mpa ? damage : power * piece->inverse_a;
    }
    damage = range <= cutoff_mpa ? Vector{} : damage;
    std::memcpy(out + i, &damage, sizeof damage);
  }
  return i;
}
