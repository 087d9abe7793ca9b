-- The press as it is kept: further facts of press and bolster, with who gave them and why; which bolster went in
-- when; times out of service; inspections; and the facing plates and packers on the rack.

-- What heat and settings need; null is not known. Who made a version, and why: the first came with the house.
alter table press_version
  add column intensification numeric(6, 3) constraint press_version_intensification check (intensification > 0),
  add column platen_thickness_mm numeric(8, 2) constraint press_version_platen_thickness check (platen_thickness_mm > 0),
  add column dry_cycle_s numeric(6, 1) constraint press_version_dry_cycle check (dry_cycle_s > 0),
  add column chiller_flow_l_per_min numeric(6, 1) constraint press_version_chiller_flow check (chiller_flow_l_per_min > 0),
  add column chiller_water_c numeric(5, 1) constraint press_version_chiller_water check (chiller_water_c between 0 and 95),
  add column made_by uuid constraint press_version_made_by references member (id),
  add column why text constraint press_version_why_length check (length(btrim(why)) between 1 and 200),
  add constraint press_version_chiller_whole check ((chiller_flow_l_per_min is null) = (chiller_water_c is null));

alter table bolster_version
  add column half_moving_mm numeric(8, 2) constraint bolster_version_half_moving check (half_moving_mm > 0),
  add column half_fixed_mm numeric(8, 2) constraint bolster_version_half_fixed check (half_fixed_mm > 0),
  add column half_material text,
  add column made_by uuid constraint bolster_version_made_by references member (id),
  add column why text constraint bolster_version_why_length check (length(btrim(why)) between 1 and 200),
  add constraint bolster_version_halves_whole check ((half_moving_mm is null) = (half_fixed_mm is null));
