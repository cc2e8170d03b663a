// The inside of a pot: a frustum (round) or a tapered box (rectangular).
#pragma once

namespace wiltline {

/// Inside dimensions of a pot, or of the mix in it. Lengths in cm, areas and volumes as named.
/// Sides are straight; a top narrower than the bottom is allowed.
class PotShape {
 public:
  /// All dimensions > 0.
  [[nodiscard]] static PotShape round(double top_diameter_cm, double bottom_diameter_cm,
                                      double height_cm);
  [[nodiscard]] static PotShape rectangular(double top_length_cm, double top_width_cm,
                                            double bottom_length_cm, double bottom_width_cm,
                                            double height_cm);

  [[nodiscard]] bool is_round() const { return round_; }
  [[nodiscard]] double height_cm() const { return height_cm_; }
  /// Of a round pot the diameter is both length and width.
  [[nodiscard]] double top_length_cm() const { return top_length_cm_; }
  [[nodiscard]] double top_width_cm() const { return top_width_cm_; }
  [[nodiscard]] double bottom_length_cm() const { return bottom_length_cm_; }
  [[nodiscard]] double bottom_width_cm() const { return bottom_width_cm_; }

  /// Cross-section at a height above the floor, cm2; `z_cm` in [0, height].
  [[nodiscard]] double area_cm2(double z_cm) const;
  [[nodiscard]] double top_area_m2() const;
  [[nodiscard]] double volume_l() const;
  /// Area of the sloping sides, without floor and top.
  [[nodiscard]] double wall_area_m2() const;
  /// Diameter of the circle that has the top's area.
  [[nodiscard]] double top_equivalent_diameter_m() const;

  /// The part up to a height, that is the mix below a headspace; `height_cm` in (0, height].
  [[nodiscard]] PotShape filled_to(double height_cm) const;
  /// Every length times `factor`.
  [[nodiscard]] PotShape scaled(double factor) const;

 private:
  PotShape(bool is_round, double top_length_cm, double top_width_cm, double bottom_length_cm,
           double bottom_width_cm, double height_cm);
  [[nodiscard]] double length_at(double z_cm) const;
  [[nodiscard]] double width_at(double z_cm) const;

  bool round_;
  double top_length_cm_;
  double top_width_cm_;
  double bottom_length_cm_;
  double bottom_width_cm_;
  double height_cm_;
};

}  // namespace wiltline
