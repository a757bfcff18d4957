"""Words that tell a test square from a piece, a pocket, a button or a sketch.

English, German, French, Spanish, Italian, Dutch, the Nordic languages, Polish, Portuguese, Japanese and Russian:
what patterns of these languages usually print at either; common practice.
"""

from __future__ import annotations

import re
from enum import IntEnum

_LETTER = "a-zà-öø-ÿā-žа-я"


def _any_of(words: str) -> re.Pattern[str]:
    """Compile words that begin as a word does; signs of Japanese stand anywhere."""
    latin = "|".join(word for word in words.split() if not re.match("[\u3000-\u9fff]", word))
    signs = "|".join(word for word in words.split() if re.match("[\u3000-\u9fff]", word))
    return re.compile(rf"(?<![{_LETTER}])(?:{latin.replace('_', ' ')})|{signs or '(?!)'}")


_TEST = _any_of(
    "test control scale scaling check(?!ed|er) calibrat kontroll massstab maßstab prüf kalibrier contrôle échelle "
    "echelle vérifi étalon calibr prueba escala verific comprob prova(?![a-z]) controllo scala(?![a-z]) schaal ijk "
    "kalibr proefv skala målestok mittakaava prøve provruta provkvadrat tarkist sprawd wzorcow skal[aię] kontrol "
    "controlo controle confer 確認 テスト 縮尺 スケール 原寸 チェック 検証 校正 基準 тест контрол масштаб провер"
)
_SQUARE = _any_of(
    "square quadrat carré cuadrad quadrat[oi] vierkant kvadrat ruta(?![a-z]) rute(?![a-z]) neliö kwadrat quadrad "
    "sides(?![a-z]) "
    "print(?:ed|s|ing)?(?![a-z]) measure should_be must_be gedruckt ausdruck imprim stampa(?:t[oa])? afdruk "
    "circle kreis cercle círculo cerchio cirkel sirkel ympyrä koło diamet durchmesser diam[eè]t ø "
    "rectangle rechteck rettangol rectángul rechthoek bar(?![a-z]) ruler line(?![a-z]) lineal règle regla "
    "正方形 四角 四辺 квадрат круг диаметр 直径 円"
)
_PIECE = _any_of(
    "pocket cuff patch button piece sketch cut(?=_(?:\\d|one|two|on|out)|\\s*x\\s*\\d) on_fold seam "
    "hem(?![a-z]) collar yoke sleeve facing lining interfacing grain appliqu swatch "
    "tasche zuschn bund(?![a-z]) bündchen manschette knopf skizze beleg saum(?![a-z]) bruch kragen ärmel futter "
    "flicken poche coup(?:er|ez) bouton manchette poignet croquis pliure ourlet bolsillo cort(?:ar|e) botón puño "
    "boceto dobladillo tasca bottone polsino schizzo zak(?![a-z]) knip knoop boord(?![a-z]) schets "
    "ficka lomme knapp knap(?![a-z]) klipp tasku nappi hiha kieszeń mankiet guzik wytnij wykrój bolso recort botão "
    "punho ポケット カフス ボタン 裁つ 裁断 見返し карман манжет пуговиц"
)
_NOT_TRUE = re.compile(
    "not (?:drawn |printed )?(?:to|at) (?:true )?(?:scale|size)|nicht ma(?:ß|ss)st|pas à l.échelle"
    "|no (?:está )?a escala|non in scala|niet op schaal|ei mittakaav|inte skalenlig|ikke i mål|nie w skali"
    "|fora de escala|não está à escala"
)


class Telling(IntEnum):
    """What words say of the shape that they stand at."""

    PIECE = 0
    NOTHING = 1
    SHAPE = 2
    TEST = 3


def telling(words: str) -> Telling:
    """Say what the words at a shape, all of them, make of it; a test square may be spoken of beside a piece."""
    plain = words.casefold()
    if _NOT_TRUE.search(plain):
        return Telling.PIECE
    if _TEST.search(plain):
        return Telling.TEST
    if _PIECE.search(plain):
        return Telling.PIECE
    return Telling.SHAPE if _SQUARE.search(plain) else Telling.NOTHING


_CARD = re.compile(
    r"\bid-?1\b|(?:credit|bank|debit|payment) ?card|scheckkarte|kreditkarte|bankkarte"
    r"|carte (?:bancaire|de crédit|bleue)|tarjeta (?:de crédito|bancaria|de débito)|carta di credito|bancomat"
    r"|bankpas|creditcard|pinpas|(?:bank|kredit)kort"
    r"|pankkikortti|luottokortti|kart[ay] (?:płatnicz|bankow|kredytow)|cartão (?:de crédito|bancário)|クレジットカード"
    r"|キャッシュカード|банковск"
)


def names_card(words: str) -> bool:
    """Tell whether words speak of a bank card (ISO/IEC 7810, ID-1)."""
    return bool(_CARD.search(words.casefold()))


_DIAMETER = re.compile(
    "diam|durchmesser|ø|⌀|circle|kreis|cercle|círculo|cerchio|cirkel|sirkel|ympyrä|koło|диам|круг|直径|円"
)


def names_circle(words: str) -> bool:
    """Tell whether words speak of a circle or a diameter."""
    return bool(_DIAMETER.search(words.casefold()))
