// German as it is written in workshops. Built like the English pack: data only.

import type { LanguagePack } from '../../pack.ts';
import { english } from '../en/index.ts';

const words = (text: string) => text.split(' ');

export const german: LanguagePack = {
  ...english,
  code: 'de',
  marks: words(
    'der die das und ist sind nicht ein eine ich wir mit von auf raus drin ab dran noch fertig jetzt alle beide bei im am zu den dem noch kein keine hab habe hat',
  ),
};
