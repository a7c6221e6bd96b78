import { square } from "../numeric/elementary/power.js";

/**
 * Complex modulus of a specimen behind an instrument that gives. The two lie in series, so that compliances add:
 * 1/M* = 1/M*read − 1/R, with R what a bar that does not give reads in the specimen's place. (ISO 6721-4 takes a
 * machine's stiffness off in this way; from memory.)
 *
 * @param rigid_Pa R, real
 * @returns moduli in Pa, and the share of the deflection in phase that is the instrument's; null where the reading is as stiff
 *   as the rigid bar or stiffer
 */
export function specimenModulus(
  storageRead_Pa: number,
  lossRead_Pa: number,
  rigid_Pa: number,
): { storageModulus_Pa: number; lossModulus_Pa: number; instrumentShare: number } | null {
  const read2 = square(storageRead_Pa) + square(lossRead_Pa);
  const storageCompliance = storageRead_Pa / read2 - 1 / rigid_Pa;
  const lossCompliance = lossRead_Pa / read2;
  if (!(storageCompliance > 0)) return null;
  const compliance2 = square(storageCompliance) + square(lossCompliance);
  return {
    storageModulus_Pa: storageCompliance / compliance2,
    lossModulus_Pa: lossCompliance / compliance2,
    instrumentShare: 1 - (storageCompliance * read2) / storageRead_Pa,
  };
}
