import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';

type Role = 'before' | 'after';

/** The demo's photos of the stern plate, as an operator would choose them. */
export const sternPlatePhoto = (role: Role): string =>
  fileURLToPath(new URL(`../../fixtures/demo/stern-plate-${role}.jpg`, import.meta.url));

/** Corners of the zone as shares of the photo: where the fixtures' own truth has them, to the nearest half percent. */
export const STERN_PLATE_ZONE = {
  before: [
    [0.52, 0.29],
    [0.93, 0.31],
    [0.94, 0.74],
    [0.5, 0.7],
  ],
  after: [
    [0.458, 0.278],
    [0.858, 0.288],
    [0.857, 0.678],
    [0.463, 0.713],
  ],
} as const;

/** A job and a zone of its own, so that no path leans on another. Ends on the story of the empty zone. */
export async function addZone(page: Page, name: string): Promise<void> {
  await page.goto('/jobs/new');
  await page.getByLabel('Name of the job').fill(`Teasel, ${name}`);
  await page.getByRole('button', { name: 'Add the job' }).click();
  await page.getByRole('link', { name: 'Add a zone' }).click();
  await page.getByLabel('Name of the zone').fill(name);
  await page.getByLabel('Target grade').selectOption('Sa 2 1/2');
  await page.getByRole('button', { name: 'Add the zone' }).click();
  await page.getByRole('link', { name: 'Check this zone' }).waitFor();
}

export async function givePhoto(page: Page, role: Role, file: string): Promise<void> {
  await page.locator(`input[data-role=${role}][data-source=files]`).setInputFiles(file);
  await page.getByRole('img', { name: `Photo ${role} the round` }).waitFor();
}

/** Drags the corners that the program asks for to where the zone is. */
export async function dragCorners(page: Page, role: Role): Promise<void> {
  await page.getByRole('heading', { name: `Where is the zone in the ${role} photo?` }).waitFor();
  await moveCorners(page, role);
}

/** Moves the corners that stand on a photo of the stern plate to where its zone is. */
export async function moveCorners(page: Page, role: Role): Promise<void> {
  const picture = page.locator('.outline');
  await picture.getByRole('img').evaluate((image: HTMLImageElement) => image.decode());
  await picture.scrollIntoViewIfNeeded();
  for (const [index, [across, down]] of STERN_PLATE_ZONE[role].entries()) {
    const handle = await picture.locator('.corner').nth(index).boundingBox();
    const frame = await picture.boundingBox();
    if (handle === null || frame === null) throw new Error('Expected corners on the photo');
    await page.mouse.move(handle.x + handle.width / 2, handle.y + handle.height / 2);
    await page.mouse.down();
    await page.mouse.move(frame.x + across * frame.width, frame.y + down * frame.height, { steps: 3 });
    await page.mouse.up();
  }
}
