// Writes a diary to a file as it is played, a chunk at a time.
import { open } from 'node:fs/promises';
import { type DiaryInputs, playDiary } from '../diary/playDiary.ts';

/** Plays a diary into a file, which is emptied first; rejects when the file cannot be written. */
export async function writeDiary(path: string, inputs: DiaryInputs): Promise<void> {
  const file = await open(path, 'w');
  try {
    let text = '';
    for (const line of playDiary(inputs)) {
      text += `${JSON.stringify(line)}\n`;
      if (text.length < CHUNK_CHARACTERS_MAX) continue;
      await file.writeFile(text);
      text = '';
    }
    await file.writeFile(text);
  } finally {
    await file.close();
  }
}

const CHUNK_CHARACTERS_MAX = 65_536;
