import { searchText } from '../search-text.ts';

/** A zone is found by its own name, its job's and its label. */
export const zoneSearchText = (zone: { name: string; jobName: string; labelCode: string }): string =>
  searchText(zone.name, zone.jobName, zone.labelCode);
