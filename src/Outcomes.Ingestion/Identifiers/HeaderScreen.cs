using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What a heading announces.</summary>
public enum HeadingKind : byte
{
    Other,

    /// <summary>A person, by name, number, role or grade: the cells say which ("Consultant", "Seen by").</summary>
    Person,

    /// <summary>A direct identifier.</summary>
    Direct,

    /// <summary>A date of birth.</summary>
    Birth,
}

/// <summary>
/// Headings that announce a direct identifier. A file with one of them, and a value below it that is more than yes or no, is refused
/// as a whole: de-identification is the exporting department's step, not a clean-up of ours.
/// </summary>
public static partial class HeaderScreen
{
    private const int LongestAnswer = 24;

    private const string Accented = "àáâãäåāăąçćčďđèéêëēęěìíîïīłñńňòóôõöøőŕřśšşșťțùúûüůűūýÿźżž";
    private const string Plain = "aaaaaaaaacccddeeeeeeeiiiiilnnnooooooorrssssttuuuuuuuyyzzz";

    /// <summary>True when the heading names a direct identifier.</summary>
    public static bool NamesAnIdentifier(string heading) => KindOf(heading) >= HeadingKind.Direct;

    /// <summary>True when the heading speaks of what is done about an identifier, as "E-mail sent" does.</summary>
    public static bool SpeaksOfAnAct(string heading) => Words(heading).Any(HeadingWords.Acts.Contains);

    /// <summary>What a heading announces, in any of the ten languages of <see cref="HeadingWords"/>.</summary>
    public static HeadingKind KindOf(string heading)
    {
        ArgumentNullException.ThrowIfNull(heading);
        var words = Words(heading);
        if (words.Length == 0) return HeadingKind.Other;
        var (padded, joined) = ($" {string.Join(' ', words)} ", string.Concat(words));
        bool Holds(string run) => padded.Contains($" {run} ", StringComparison.Ordinal);
        if (Holds("given name") || Holds("known as")) return HeadingKind.Direct;
        if (words.Any(HeadingWords.Acts.Contains)) return words.Any(HeadingWords.By.Contains) ? OfPersons(words) : HeadingKind.Other;
        if (HeadingWords.BirthRuns.Any(run => Holds(run) || joined == run)) return HeadingKind.Birth;
        if (HeadingWords.Whole.Contains(joined) || HeadingWords.Whole.Contains(WithoutNumber(words))
            || words.Any(HeadingWords.Anywhere.Contains)
            || HeadingWords.Anywhere.Contains(joined) || HeadingWords.Runs.Any(Holds))
            return HeadingKind.Direct;
        var (patient, other) = (words.Any(HeadingWords.Patients.Contains), words.Any(HeadingWords.Others.Contains));
        if ((patient || other) && (words.Any(HeadingWords.Names.Contains) || (Holds("nombre") && !Holds("nombre de patients"))))
            return HeadingKind.Direct;
        // "Number of patients" is a count.
        if (patient && words.Any(HeadingWords.Numbers.Contains) && !Counts(words)) return HeadingKind.Direct;
        return OfPersons(words);
    }

    /// <summary>
    /// True when the heading itself is an identifier of a person: a ten-digit number that passes the NHS number check, a national number
    /// as printed, an e-mail address, or a postcode. It is named by position only, and the file is refused.
    /// </summary>
    public static bool IsAnIdentifier(string heading) =>
        (Detect.In(heading, IdentifierSets.Numbers | IdentifierSets.Refusing) & (IdentifierSets.Refusing | IdentifierSets.Passing))
            != Identifier.None;

    /// <summary>
    /// True when a cell under such a heading says more than yes or no. Days since 2000 say when something was done, except of births; under
    /// the heading of a person, words of roles and grades say nobody's name.
    /// </summary>
    public static bool Betrays(HeadingKind kind, ReadOnlySpan<byte> cell)
    {
        if (cell.IsEmpty || kind == HeadingKind.Other || !cell.ContainsAnyExcept("-. ?/"u8)) return false;
        if (cell.Length > 120) return true;
        Span<char> text = stackalloc char[120];
        text = text[..Encoding.UTF8.GetChars(cell, text)];
        if (text.Length <= LongestAnswer && IsAnswer(text)) return false;
        if (kind == HeadingKind.Birth) return true;
        if (BirthDates.YearOf(text) >= 2000) return false;
        return kind == HeadingKind.Direct || NamesSomebody(text);
    }

    private static bool IsAnswer(ReadOnlySpan<char> text) =>
        HeadingWords.Answers.Contains(string.Concat(Words(text.ToString()))) && text.Length > 0;

    // A word with a capital that no role, place or grade has, or a number as long as a hospital's.
    private static bool NamesSomebody(ReadOnlySpan<char> text)
    {
        var digits = 0;
        foreach (var c in text)
            if (char.IsAsciiDigit(c)) digits++;
        if (digits >= 5) return true;
        foreach (var range in text.SplitAny(' ', ',', '/', '(', ')', '-', '.', ';', '+', '&'))
        {
            var word = text[range];
            if (word.Length >= 3 && char.IsUpper(word[0]) && !word.ContainsAnyInRange('0', '9')
                && (word.Length > 4 || char.IsLower(word[1]))
                && Names.MayBeSpoken(word) && !IsOfARole(word))
                return true;
        }

        return false;
    }

    // Languages that join their words put the role last: Specialistläkare, Assistenzarzt.
    private static bool IsOfARole(ReadOnlySpan<char> word)
    {
        for (var i = 0; i <= word.Length - 4; i++)
            if (ClinicalWords.Contain(word[i..])) return true;
        return ClinicalWords.Contain(word);
    }

    private static HeadingKind OfPersons(string[] words)
    {
        var person = words.Any(word => HeadingWords.Patients.Contains(word) || HeadingWords.Others.Contains(word));
        if (person && words.All(word => HeadingWords.Patients.Contains(word) || HeadingWords.Others.Contains(word)
            || HeadingWords.Fillers.Contains(word) || HeadingWords.Numbers.Contains(word)))
            return Counts(words) ? HeadingKind.Other : HeadingKind.Person;
        return words.Any(HeadingWords.By.Contains) && words.All(word => HeadingWords.By.Contains(word) || HeadingWords.Deeds.Contains(word)
            || HeadingWords.Acts.Contains(word) || word is "form" or "data" or "record") && words.Any(HeadingWords.Deeds.Contains)
            ? HeadingKind.Person
            : HeadingKind.Other;
    }

    private static bool Counts(string[] words) => words.Contains("of") && words.Any(HeadingWords.Numbers.Contains);

    // "Phone 1", "Address 2"
    private static string WithoutNumber(string[] words) => string.Concat(words.Where(word => !char.IsAsciiDigit(word[0])));

    private static string[] Words(string heading) =>
        [.. WordStarts().Matches(Folded(heading)).Select(match => match.Value.ToLowerInvariant())];

    // Without accents, so that one spelling of each word is enough.
    private static string Folded(string heading)
    {
        if (Ascii.IsValid(heading)) return heading;
        var text = new StringBuilder(heading.Length + 4);
        foreach (var c in heading)
        {
            // A combining accent is left out; an accented letter is looked up, for the tool carries no tables of languages.
            if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark) continue;
            var at = Accented.IndexOf(char.ToLowerInvariant(c), StringComparison.Ordinal);
            var plain = at >= 0
                ? Plain[at].ToString()
                : char.ToLowerInvariant(c) switch { 'ß' => "ss", 'æ' => "ae", 'œ' => "oe", _ => c.ToString() };
            text.Append(at >= 0 && char.IsUpper(c) ? plain.ToUpperInvariant() : plain);
        }

        return text.ToString();
    }

    [GeneratedRegex("[A-Z]+(?![a-z])|[A-Z]?[a-z]+|[0-9]+")]
    private static partial Regex WordStarts();
}
