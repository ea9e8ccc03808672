// Packs for the label tests. Invented.
import type { LabelPack } from '../../server/domain/labels/label.ts';

export function labelPack(changes: Partial<LabelPack> = {}): LabelPack {
  return {
    product: 'Hot-smoked mackerel',
    species: 'Atlantic mackerel',
    lot: 'K7M-4XR9',
    packNo: 12,
    smokeDay: '2026-11-21',
    dateKind: 'use-by',
    lastDay: '2026-11-27',
    storageWords: 'Keep refrigerated at 38 F (3.3 C) or below',
    extraWords: ['Contains: fish'],
    ingredients: 'mackerel, salt, brown sugar, alder smoke',
    netGrams: 250,
    madeBy: 'Skerrywick Boat Club',
    saleWords: 'Sport caught, not for resale',
    url: 'https://smoke.skerrywick.example/p/7KQ2M9XWTB4HCF8NRVZD3A',
    hold: null,
    recalled: false,
    reprint: 0,
    ...changes,
  };
}

export function manyPacks(count: number): LabelPack[] {
  return Array.from({ length: count }, (_, index) => labelPack({
    packNo: index + 1,
    netGrams: 200 + (index * 7) % 90,
    url: `https://smoke.skerrywick.example/p/${(1_000_000 + index * 7919).toString(36)}7KQ2M9XWTB4HCF8N`,
  }));
}
