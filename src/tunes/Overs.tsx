import { getLanguage, plural, t } from '../host/i18n.ts';
import { HelpSheet } from '../ui/HelpSheet.tsx';
import { commands } from './commands.ts';
import { putInSet } from './deeds.ts';
import { DetailsSheet } from './DetailsSheet.tsx';
import { FileAgain } from './FileAgain.tsx';
import { renameSet } from './ListBar.tsx';
import { SetSheet } from './SetSheet.tsx';
import { SettingsSheet } from './SettingsSheet.tsx';
import { Confirm } from './Sheet.tsx';
import type { Shelf } from './shelf.ts';
import type { View } from './view.ts';
import { sizeText } from './words.ts';

/** The sheet that lies over the page, if any. */
export function Overs({ shelf, view }: { shelf: Shelf; view: View }) {
  const close = () => (view.over.value = null);
  const over = view.over.value;
  const place = view.place.value;
  const sets = view.sets.value;
  switch (over?.kind) {
    case 'help': {
      const change = (part: Parameters<Shelf['change']>[0]) => void shelf.change(part);
      return <HelpSheet commands={commands} choices={shelf.settings.value} change={change} close={close} />;
    }
    case 'settings':
      return <SettingsSheet shelf={shelf} close={close} />;
    case 'details':
      return <DetailsSheet card={over.card} sets={sets} shelf={shelf} close={close} />;
    case 'file-again':
      return <FileAgain card={over.card} begin={over.begin} shelf={shelf} close={close} />;
    case 'drop': {
      const document = shelf.documents.value?.get(over.card.document ?? '');
      if (!document) return null;
      return (
        <Confirm
          title={over.card.name}
          text={plural('tunes_drop_sure', 1, sizeText(document.bytes, getLanguage()))}
          yes={t('tunes_drop_yes')}
          done={() => void shelf.drop([document])}
          close={close}
        />
      );
    }
    case 'set-name':
      return (
        <SetSheet
          title={t('tunes_set_rename')}
          first={place.kind === 'set' ? place.set : ''}
          sets={sets}
          ok={t('tunes_keep')}
          done={(name) => renameSet(shelf, view, name)}
          close={close}
        />
      );
    case 'put-in-set': {
      const chosen = view.listed.value.filter(({ chart }) => view.chosen.value?.has(chart));
      const done = (name: string) =>
        void putInSet(shelf, chosen, name).then(() => (view.chosen.value = null));
      return (
        <SetSheet
          title={t('tunes_put')}
          first=""
          sets={sets}
          ok={t('tunes_put_ok')}
          done={done}
          close={close}
        />
      );
    }
    case undefined:
      return null;
  }
}
