/** The publications the resin figures are read from, each named once. Toolmakers' pages mostly restate suppliers' tables. */

export const ABERY_PA = 'aberymolds.com, Plastic injection process: PA6/PA66 (24782700)';
export const BASF_STYRENICS =
  'BASF Plastics, Injection molding faults in styrene copolymers and their prevention, section 1.1';
export const BOR_JENN_TPU = 'bor-jenn.com, TPU recommended process';
export const CONAIR_PLA = 'Conair, Handling, drying and reclaim considerations for PLA';
export const COVESTRO = 'Covestro, Processing data for the injection molder (MS005757), sects 2.1-2.2';
export const CRAWFORD =
  'R. J. Crawford, Plastics Engineering, 3rd ed., Table 1.8, book p. 31 (scanned page 48 at digilib.universitaspertamina.ac.id)';
export const DAWN_PETG = 'Dawn Group, Copolyester PETG/PCTG processing guide (2025-01-21)';
export const ENGINEERING_HANDBOOK =
  'Engineering Plastics Handbook, Table 5.8, book p. 94 (scanned page 120 at digilib.universitaspertamina.ac.id)';
export const FAST_HEAT_PBT = 'Fast Heat UK material data page, PBT (fastheatuk.com/mdb/pbt)';
export const FAST_HEAT_PMMA = 'Fast Heat UK material data page, PMMA (fastheatuk.com/mdb/pmma)';
export const FAST_HEAT_TPU = 'Fast Heat UK material data page, TPU (fastheatuk.com/mdb/tpu)';
export const FEMAN_ABS = 'Feman Tooling (dgfeman.com), Description of ABS molding process';
export const GENESIS = 'Genesis (genesisllc.com), Regrind use';
export const HAFO_POM = 'hafo-mould.com and jointeflons.com, POM injection molding process notes (same text)';
export const IMTECH_PC = 'imtechdesign.com, PC materials (advice_materials_pc)';
export const MENSHEN_PLA = 'Georg Menshen GmbH, PLA injection process sheet (scribd 694244707)';
export const MINGHAO_DRAFT = 'minghaomould.com, Draft angle (reference 8/7)';
export const MOLDINGHUB_POM = 'moldinghub.com, Resin data: POM (compiled ranges, training publisher)';
export const NOZTEK = 'Noztek, Important: dry your resin before use (2015-11-07)';
export const PLASTICRANGER =
  'plasticranger.com, The Processing and Drying Temperatures of Plastics, converted from deg F';
export const PLASTIC_INDUSTRY =
  'plastic-industry.com, Injection Molding General Processing Guidelines (/processing-guidelines/), converted from deg F / inch';
export const POLYPLASTICS_POM =
  'Polyplastics, Molding technology for POM, ch. 2 Safety and hygiene (polyplastics.com .../pom02)';
export const PVC_HANDBOOK = 'resin distributor handbook, PVC page 24 (online.flipbuilder.com/zckh/mvpu)';
export const STELRAY =
  'Stelray, Plastic material and draft angle reference charts (stelray.com/reference-tables)';
export const SU_JIAO_PBT = 'su-jiao.com, PBT datasheet 38074 (supplier datasheet values)';
export const TEXTILES_PP =
  'textilesintrends.com, PP plastic characteristics, molding process, use (2020-09-15)';
export const THERMAL_CHART = 'scribd 139131189, Thermal properties of polymers (one-page chart)';
export const TORAY_PA = 'Toray Plastics, Before injection-molding a nylon resin (technical page tec_007)';
export const TRANSFORMERS_HDPE =
  'dry-type-transformers.com, Twenty kinds of plastics and their properties (9) PE-HD';
export const TRANSFORMERS_PA66 =
  'dry-type-transformers.com, Twenty kinds of plastics and their properties (4) PA66';
export const UNITIKA_PET = 'Unitika, Polyester PET resins: molding conditions (pet-03, 2017)';
export const VENTS = 'viewmold.com, Injection mold venting standards, item 5, converted from inches';
export const VIEWMOLD_LDPE = 'viewmold.com, LDPE injection molding processing conditions';
export const VIEWMOLD_PET = 'viewmold.com, PET injection molding processing conditions';
export const VIEWMOLD_PETG = 'viewmold.com, PETG injection molding processing conditions';
export const VIEWMOLD_PS = 'viewmold.com, PS injection molding processing conditions';
export const VIEWMOLD_PVC = 'viewmold.com, PVC processing conditions';
export const XHSY_PVC = 'xhsy.js.cn, PVC injection molding process points (supplier note)';
