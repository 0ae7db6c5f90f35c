// The composer at the thumb, one-tap next steps, and photos shrunk on the phone.
import { byId } from './ask.js';
import { figureSheet } from './sheets.js';

const DRAFT = 'chargehand-draft';
/** Longest side of a photo that is sent, in pixels; enough to read a label on a part. */
const PHOTO_SIDE = 1600;

/** @param {{ say: (text: string, photo?: Blob) => Promise<string | undefined> }} outbox */
export function startComposer(outbox) {
  document.addEventListener('click', (event) => {
    const found =
      event.target instanceof Element ? event.target.closest('button[data-says]') : null;
    if (!(found instanceof HTMLButtonElement)) return;
    const { says = '', figure } = found.dataset;
    found.closest('dialog')?.close();
    if (document.body.dataset.name === undefined) {
      const who = byId('who');
      if (who instanceof HTMLDialogElement) who.showModal();
    } else if (figure === undefined) void outbox.say(says);
    else figureSheet(says, JSON.parse(figure), (text) => void outbox.say(text));
  });

  const form = byId('composer');
  const words = byId('words');
  const photo = byId('photo');
  if (!(form instanceof HTMLFormElement) || !(words instanceof HTMLTextAreaElement)) return;
  const first = words.value;
  const shelf = `${DRAFT} ${location.pathname}`;
  const kept = sessionStorage.getItem(shelf);
  if (kept !== null && kept !== '') words.value = kept;
  const grow = () => {
    words.style.height = 'auto';
    words.style.height = `${Math.min(words.scrollHeight + 2, 160)}px`;
  };
  words.addEventListener('input', () => {
    sessionStorage.setItem(shelf, words.value);
    grow();
  });
  words.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || event.shiftKey || event.isComposing) return;
    event.preventDefault();
    form.requestSubmit();
  });
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const text = words.value;
    if (text.trim() === '' || text === first) {
      tell('Type a few words first.');
      words.focus();
      return;
    }
    words.value = first;
    sessionStorage.removeItem(shelf);
    grow();
    tell('');
    void outbox.say(text).then((refused) => refused !== undefined && tell(refused));
    words.focus();
  });
  if (photo instanceof HTMLInputElement) {
    photo.addEventListener('change', () => {
      const [file] = photo.files ?? [];
      photo.value = '';
      if (file !== undefined) void sendPhoto(file);
    });
  }

  /** @param {File} file */
  const sendPhoto = async (file) => {
    tell('Shrinking the photo');
    const small = await shrink(file).catch(() => undefined);
    if (small === undefined) {
      tell('This photo cannot be read here. Take it again, as a JPEG.');
      return;
    }
    const text = words.value === first ? '' : words.value;
    words.value = first;
    sessionStorage.removeItem(shelf);
    grow();
    tell('');
    void outbox.say(text, small).then((refused) => refused !== undefined && tell(refused));
  };
}

/** @param {string} text */
function tell(text) {
  const line = byId('composer-says');
  if (line !== null) line.textContent = text;
}

/**
 * @param {File} file
 * @returns {Promise<Blob>}
 */
async function shrink(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, PHOTO_SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob === null ? reject(new Error('The canvas gave no picture.')) : resolve(blob)),
      'image/jpeg',
      0.8,
    );
  });
}
