using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Streets with house numbers, without a postcode. The words for streets are general vocabulary of seven languages; no list of streets
/// or towns is used.
/// </summary>
public static partial class Streets
{
    /// <summary>True when a text holds a word for a street, a name beside it, and a house number.</summary>
    public static bool Find(ReadOnlySpan<char> text)
    {
        foreach (var match in English().EnumerateMatches(text))
            if (HasName(text.Slice(match.Index, match.Length))) return true;
        foreach (var match in NumberLast().EnumerateMatches(text))
            if (HasName(text.Slice(match.Index, match.Length))) return true;
        return NumberFirst().IsMatch(text);
    }

    /// <summary>
    /// True when a whole cell has the form of an address: a house number at one end, and beside it capitalised words of which none is
    /// clinical. One such cell may be anything; a column of them hardly is.
    /// </summary>
    public static bool Are(ReadOnlySpan<char> cell)
    {
        if (cell.Length is < 6 or > 80) return false;
        var (words, numbers, at, numberAt) = (0, 0, 0, -1);
        foreach (var range in cell.SplitAny(' ', ','))
        {
            var word = cell[range].Trim('.');
            if (word.IsEmpty) continue;
            if (char.IsAsciiDigit(word[0]))
            {
                if (word.Length > 6 || word.Count('.') + word.Count(':') > 0) return false;
                (numbers, numberAt) = (numbers + 1, at);
            }
            else if (!char.IsLetter(word[0]) || ClinicalWords.Contain(word))
            {
                return false;
            }
            else if (char.IsUpper(word[0]) && word.Length > 2)
            {
                words++;
            }

            at++;
        }

        return words > 0 && numbers is 1 or 2 && at <= 8 && (numberAt == 0 || numberAt >= 1);
    }

    // The word for a street alone names none: "3 Way" and "1 Close" are no addresses.
    private static bool HasName(ReadOnlySpan<char> match)
    {
        foreach (var range in match.SplitAny(' ', ',', '.'))
            if (match[range] is var word && word.Length > 1 && !char.IsAsciiDigit(word[0]) && ClinicalWords.Contain(word)) return false;
        return true;
    }

    [GeneratedRegex(
        @"(?<![\w.])\d{1,5}[A-Za-z]?,? (?:\p{Lu}[\p{L}'’-]+ ){1,3}(?:Street|St|Road|Rd|Avenue|Ave|Lane|Ln|Crescent|Cres|Terrace|Drive|Dr|"
            + @"Close|Court|Ct|Gardens|Gdns|Grove|Place|Pl|Square|Sq|Way|Hill|Mews|Parade|Boulevard|Blvd|Highway|Row|Rise|View|Walk)\b")]
    private static partial Regex English();

    [GeneratedRegex(
        @"(?<!\w)\p{Lu}[\p{L}'’ -]{0,40}(?:straße|strasse|str\.|gasse|allee|platz|damm|ufer|weg|Weg|Allee|Platz|Straße|Ring|Str\.|"
            + @"straat|laan|plein|gracht|kade|singel|dreef|gatan|vägen|gränd|stigen|torget|gade|vej|vejen|gata|gate|veien|vegen|allé|"
            + @"plads|torv|stræde|bakken|katu|tie|kuja|polku|kaari|aukio),? \d{1,4} "
            + @"?[a-zA-Z]?(?!\w)|(?<!\w)(?:Via|Viale|Piazza|Corso|Largo|Vicolo|"
            + @"Strada|Contrada|Borgo|Calle|C/|Avenida|Avda\.?|Plaza|Paseo|Camino|Carretera|Ronda|Travesía|Rúa|Carrer),? "
            + @"(?:(?:de|del|della|dei|la|las|los|el|di|da) )*\p{Lu}[\p{L}'’. -]{1,40},? (?:n\.?º? ?|s/n)?\d{1,4} ?[a-zA-Z]?(?!\w)")]
    private static partial Regex NumberLast();

    [GeneratedRegex(@"(?<![\w.])\d{1,4}(?: "
        + @"?bis| ?ter)?,? (?:rue|avenue|av\.|boulevard|bd|chemin|allée|place|impasse|quai|cours|route|passage|square|voie|"
        + @"Rue|Avenue|Boulevard|Chemin|Allée|Place|Impasse|Quai) (?:(?:de|du|des|la|le|les|l'|d'|l’|d’) ?)*\p{Lu}")]
    private static partial Regex NumberFirst();
}
