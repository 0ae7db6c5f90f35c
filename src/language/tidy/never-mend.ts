// Words that no mending makes of another, nor another of them.

/** Pairs no mending may ever bridge: one letter apart and opposite, or one of them changes who did what. */
export const NEVER_MEND: ReadonlySet<string> = new Set(
  'of off on in nit nut not now done gone rear near left lift fit fix fill full seal seat leak leek tight right fitted filled lifted sealed seated refit refill undone unlock lock load loaded head heat hear bolt belt front from loose close hose nose plug plus cap cup clip chip rest test text bar car far war pin pit boot root hub hug tub rub wheel wheal here there where when then them than line fine mine wine like side hide wide rail fail tail mail nail code mode cover lover over oven even ever never lever level cell call ball fall tall wall sold cold told hold bold goal coal pool cool tool fool pump jump dump bump cost most post lost host cast last past fast vast gas has was bus bug bag big dig bid kid did lid hit hot got get set let bet wet yet jet met net pet'.split(
    ' ',
  ),
);
