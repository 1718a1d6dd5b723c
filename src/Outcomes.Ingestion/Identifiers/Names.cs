using System.Globalization;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What the whole of a cell looks like, where that says something of its column.</summary>
public enum CellForm : byte
{
    Other,

    /// <summary>One capitalised word that is no clinical one.</summary>
    OneName,

    /// <summary>Two to four such words, or one with initials: "Ann Example", "EXAMPLE, Ann", "A. Example".</summary>
    FullName,

    /// <summary>A calendar date, or a month of a year.</summary>
    Date,

    /// <summary>Two to four words in small letters, none of them clinical: "ann example".</summary>
    LowerName,

    /// <summary>One such word.</summary>
    LowerWord,

    /// <summary>Two or three letters, with points or without: "AE", "a.e.", "ABE".</summary>
    Initials,

    /// <summary>A year alone.</summary>
    Year,

    /// <summary>A whole number that a spreadsheet may show as a date of this century or the last.</summary>
    Serial,

    /// <summary>A street and a house number, by its form.</summary>
    Address,

    /// <summary>The same with a word for a street.</summary>
    Street,

    /// <summary>A telephone number of any country, by its form.</summary>
    Phone,

    /// <summary>A vehicle's number plate, by its form.</summary>
    Plate,

    /// <summary>Seven to twelve digits, in groups or not, and nothing else, which are no date.</summary>
    Digits,
}

/// <summary>
/// Persons' names without a title, by form alone: capitalised words of which none is clinical (<see cref="ClinicalWords"/>). No list
/// of names is used. One cell of this form says little; a column of them says much.
/// </summary>
public static class Names
{
    private const int MostWords = 5;

    private enum Kind
    {
        Proper,
        Capitals,
        Initial,
        Particle,
        Lower,
    }

    /// <summary>
    /// The form of a whole cell, with hashes of its first and last word, by which a column of names is told from a list of things.
    /// </summary>
    public static CellForm Of(ReadOnlySpan<char> cell, out int first, out int last)
    {
        (first, last) = (0, 0);
        int words = 0, initials = 0, all = 0, commas = 0, ideograms = 0;
        for (var i = 0; i < cell.Length;)
        {
            if (!char.IsLetter(cell[i]))
            {
                if (cell[i] == ',') commas++;
                else if (cell[i] is not ' ' && !(cell[i] == '.' && i > 0 && char.IsLetter(cell[i - 1]))) return CellForm.Other;
                i++;
                continue;
            }

            var word = Word(cell[i..]);
            if (++all > MostWords) return CellForm.Other;
            switch (KindOf(word))
            {
                case Kind.Initial: initials++; break;
                case Kind.Particle: break;
                case Kind.Lower: return CellForm.Other;
                case var kind:
                    if (word.Length < (kind == Kind.Capitals ? 3 : 2) || IsClinical(word)) return CellForm.Other;
                    if (char.GetUnicodeCategory(word[0]) == UnicodeCategory.OtherLetter && cell.Length is >= 2 and <= 5) ideograms++;
                    last = Hash(word);
                    if (words++ == 0) first = last;
                    break;
            }

            i += word.Length;
        }

        if (words == 0 || words > 4 || commas > 1 || initials > 3 || cell.Length > 60) return CellForm.Other;
        return words + initials > 1 || ideograms > 0 ? CellForm.FullName
            : commas == 0 && all == 1 && MayBeSpoken(cell) ? CellForm.OneName
            : CellForm.Other;
    }

    /// <summary>The form of a whole cell in small letters: letters and single blanks, no word clinical.</summary>
    public static CellForm OfLower(ReadOnlySpan<char> cell, out int first, out int last)
    {
        (first, last) = (0, 0);
        var words = 0;
        foreach (var range in cell.SplitAny(' ', ','))
        {
            var word = cell[range];
            if (word.IsEmpty) continue;
            if (word.Length < 2 || Word(word).Length != word.Length || char.IsUpper(word[0]) || IsClinical(word)) return CellForm.Other;
            if (KindOf(word) == Kind.Particle) continue;
            last = Hash(word);
            if (words++ == 0) first = last;
        }

        return words is >= 2 and <= 4 ? CellForm.LowerName : words == 1 && MayBeSpoken(cell) ? CellForm.LowerWord : CellForm.Other;
    }

    /// <summary>True for two or three letters of one case, or a capital and small ones, points and blanks between left out.</summary>
    public static bool AreInitials(ReadOnlySpan<char> cell)
    {
        if (cell.Length is < 2 or > 6) return false;
        Span<char> letters = stackalloc char[3];
        var count = 0;
        foreach (var c in cell)
        {
            if (c is '.' or ' ' or '-') continue;
            if (!char.IsLetter(c) || count == 3) return false;
            letters[count++] = c;
        }

        return count >= 2 && !ClinicalWords.Contain(letters[..count]);
    }

    // Letters drawn at random have few vowels and long runs without one; a name is spoken.
    internal static bool MayBeSpoken(ReadOnlySpan<char> word)
    {
        var (vowels, run, letters) = (0, 0, 0);
        foreach (var c in word)
        {
            if (!char.IsLetter(c)) continue;
            letters++;
            if (c > '\u007F' || "aeiouyAEIOUY".Contains(c))
            {
                vowels++;
                run = 0;
            }
            else if (++run > 4)
            {
                return false;
            }
        }

        return vowels * 5 >= letters;
    }

    /// <summary>
    /// True when a text holds two capitalised words side by side or with a comma between, or an initial and one, none of them clinical.
    /// </summary>
    public static bool Within(ReadOnlySpan<char> text)
    {
        var before = default(ReadOnlySpan<char>);
        var end = -1;
        for (var i = 0; i < text.Length;)
        {
            if (!char.IsLetter(text[i]))
            {
                // Words with digits in them are codes.
                if (char.IsAsciiDigit(text[i])) before = default;
                i++;
                continue;
            }

            var word = Word(text[i..]);
            var after = i + word.Length;
            if (IsName(word, text, i, after))
            {
                var between = before.IsEmpty ? "#" : text[end..i];
                if (between is " " or "  " && KindOf(before) == Kind.Proper) return true;
                if (between is ", " or ",") return true;
                if (between is ". " or " " && KindOf(before) == Kind.Initial) return true;
            }

            else if (word.Length > 3 && KindOf(word) == Kind.Capitals && !before.IsEmpty && KindOf(before) == Kind.Proper
                && text[end..i] is " " && IsWhole(text, i, after) && !IsClinical(word))
            {
                return true;
            }

            before = KindOf(word) == Kind.Initial && after < text.Length && text[after] == '.' ? word
                : KindOf(word) is Kind.Proper or Kind.Capitals && IsWhole(text, i, after) && !IsClinical(word) && word.Length > 2 ? word
                : default;
            end = after;
            i = after;
        }

        return false;
    }

    // FNV-1a over the letters without case: the same in every process.
    private static int Hash(ReadOnlySpan<char> word)
    {
        var hash = 2166136261u;
        foreach (var c in word) hash = (hash ^ char.ToUpperInvariant(c)) * 16777619u;
        return (int)hash;
    }

    private static bool IsName(ReadOnlySpan<char> word, ReadOnlySpan<char> text, int start, int end) =>
        word.Length > 2 && KindOf(word) == Kind.Proper && IsWhole(text, start, end) && !IsClinical(word);

    private static bool IsWhole(ReadOnlySpan<char> text, int start, int end) =>
        (start == 0 || text[start - 1] is ' ' or ',' or '(' or ';' or ':' or '-' or '/' or '"')
            && (end == text.Length || text[end] is ' ' or ',' or ')' or ';' or ':' or '.' or '-' or '/' or '"');

    // Letters, with hyphens and apostrophes inside.
    private static ReadOnlySpan<char> Word(ReadOnlySpan<char> text)
    {
        var i = 1;
        while (i < text.Length && (char.IsLetter(text[i])
            || char.GetUnicodeCategory(text[i]) is UnicodeCategory.NonSpacingMark or UnicodeCategory.SpacingCombiningMark
            || (text[i] is '-' or '\'' or '’' && i + 1 < text.Length && char.IsLetter(text[i + 1])))) i++;
        return text[..i];
    }

    private static Kind KindOf(ReadOnlySpan<char> word)
    {
        if (word.Length == 1) return char.IsUpper(word[0]) ? Kind.Initial : char.IsLower(word[0]) ? Kind.Lower : Kind.Proper;
        if (char.IsLower(word[0]))
            return word is "van" or "de" or "der" or "den" or "di" or "da" or "la" or "le" or "bin" or "al" or "von" or "dos" or "del"
                or "ter" ? Kind.Particle : Kind.Lower;
        return word.ContainsAnyExcept(Capitals) ? Kind.Proper : Kind.Capitals;
    }

    private static readonly System.Buffers.SearchValues<char> Capitals =
        System.Buffers.SearchValues.Create([.. Enumerable.Range('A', 0x500).Select(c => (char)c).Where(char.IsUpper), '-', '\'', '’']);

    private static bool IsClinical(ReadOnlySpan<char> word)
    {
        if (ClinicalWords.Contain(word)) return true;
        foreach (var part in word.SplitAny('-', '\'', '’'))
            if (word[part].Length > 2 && ClinicalWords.Contain(word[part]))
                return true;
        return false;
    }
}
