using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// The shapes of the remaining identifiers, each a word or words of its own. All repetitions are bounded, so no text is slow.
/// </summary>
public static partial class Shapes
{
    /// <summary>True when an @ has a local part before it and a domain with a point after it.</summary>
    public static bool HoldsEmail(ReadOnlySpan<char> text)
    {
        for (var i = text.IndexOf('@'); i >= 0;)
        {
            var domain = 0;
            while (i + 1 + domain < text.Length && (char.IsLetterOrDigit(text[i + 1 + domain]) || text[i + 1 + domain] is '-' or '.'))
                domain++;
            var host = text.Slice(i + 1, domain).TrimEnd('.');
            var point = host.LastIndexOf('.');
            if (i > 0 && (char.IsLetterOrDigit(text[i - 1]) || text[i - 1] is '_' or '-' or '.' or '+' or '"') && point > 0
                && host.Length - point > 2 && char.IsLetter(host[^1]))
                return true;
            var next = text[(i + 1)..].IndexOf('@');
            i = next < 0 ? -1 : i + 1 + next;
        }

        return false;
    }

    /// <summary>
    /// Common practice: +44, other international numbers (E.164), and United Kingdom numbers from 01, 02, 03 and 07 of eleven digits, or of
    /// ten where they are grouped; extensions and pagers by their words.
    /// </summary>
    [GeneratedRegex(@"(?<![\w.])(?:(?:\+|00)[1-9](?:[ ().-]{0,2}\d){8,13}|\(?0[1237](?:[ ().-]{0,2}\d){9}|\(?0[1-35789](?=\d{0,5}[ "
        + @"().-])(?:[ ().-]{0,2}\d){8,9}|44[127]\d{9})(?!\w|\.\d)|\b(?:ext(?:n|ension)?|bleep|pager)\.?:? ?(?:no\.? ?)?\d{3,6}(?!\w|\.\d)",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex Phone();

    /// <summary>
    /// An address with a scheme or www, or four octets, or groups of hexadecimal digits, or an e-mail address with its "at" spelled out.
    /// </summary>
    [GeneratedRegex(@"\b(?:https?://|ftp://|www\.)\S|(?<![\w.]|\b(?:version|ver|rev|release)\.? "
        + @"?)(?:(?:25[0-5]|2[0-4]\d|1?\d?\d)\.){3}(?:25[0-5]|2[0-4]\d|1?\d?\d)(?![\w.])|"
        + @"(?<![\w:])(?:[0-9a-f]{1,4}:){7}[0-9a-f]{1,4}(?![\w:])|"
        + @"(?<![\w:])[0-9a-f]{1,4}(?::[0-9a-f]{1,4}){1,5}::(?:[0-9a-f]{1,4}(?::[0-9a-f]{1,4}){0,4})?(?![\w:])|\w[\])]? "
        + @"?[\[(]?\bat\b[\])]? ?(?:[\w-]{1,40}(?:\.| ?[\[(]?\bdot\b[\])]? "
        + @"?)){1,4}(?:com|org|net|uk|scot|wales|ie|eu|info|biz|name)\b|\b[a-z0-9-]{2,63}\.(?:com|org|net|info|biz|name|(?:co|org|"
        + @"ac|nhs|gov)\.uk)\b",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex Web();

    /// <summary>True when a title or the word patient stands before a word that has the form of a name and is no clinical one.</summary>
    public static bool HoldsTitledName(ReadOnlySpan<char> text)
    {
        foreach (var match in Titled().EnumerateMatches(text))
            if (HoldsAName(text.Slice(match.Index, match.Length)))
                return true;
        foreach (var match in AnnouncedName().EnumerateMatches(text))
            if (Names.Within(text.Slice(match.Index, match.Length)))
                return true;
        return false;
    }

    // The first word is the title.
    private static bool HoldsAName(ReadOnlySpan<char> text)
    {
        var first = true;
        foreach (var word in text.SplitAny(' ', '.'))
        {
            if (!first && text[word].Length > 1 && !ClinicalWords.Contain(text[word])) return true;
            first = false;
        }

        return false;
    }

    // MR in capitals is magnetic resonance, MS an illness: in capitals only titles that mean nothing else. In small letters "dr" and
    // "mrs" are titles before a capital letter, and "mr" and "miss" may be anything.
    [GeneratedRegex(
        @"\b(?:(?:Mr|Mrs|Ms|Miss|Mx|Dr|Prof|Professor|Doctor|Sister|Nurse|Rev|Sir|Dame|MRS|MISS|DR|PROF|dr|mrs|prof|professor|doctor)\.? "
            + @"{1,2}(?:[A-Z](?:\. ?| {1,2})){0,3}(?:\p{Lu}[\p{L}'’-]+ {1,2})?\p{Lu}[\p{L}'’-]+|(?:mr|ms|miss|sister|MR|MS) "
            + @"\p{Lu}\p{Ll}[\p{L}'’-]+)")]
    internal static partial Regex Titled();

    // "patient Ann Example", "Name: Ann Example", "pt Ann Example"
    [GeneratedRegex(@"\b(?:[Nn]ame|NAME|[Pp]atient|PATIENT|[Pp]t|PT)(?: is| called|'s name)?[:=]? {1,2}\p{Lu}\p{Ll}[\p{L}'’-]* "
        + @"{1,2}\p{Lu}\p{Ll}[\p{L}'’-]*\b")]
    internal static partial Regex AnnouncedName();

    /// <summary>
    /// One to three letters and six to eight digits, but for the marks of batches and devices; or five to ten digits with the words of a
    /// hospital number before them.
    /// </summary>
    [GeneratedRegex(@"(?<![\w-])(?!LOT|REF|SN|SER|BN|PO|VER|ID|TX|EQ|CAL)(?:[A-Z]-?|[A-Z]{2,3})\d{6,8}(?![\w-])|\b(?:MRN|hosp(?:ital)?\.? "
        + @"?(?:no|num(?:ber)?|id)|hosp\.|case ?note(?:s)?(?: "
        + @"no| number)?|unit (?:no|number)|patient (?:no|number|id))\W{0,3}[A-Z]{0,3}\d{5,10}(?!\w)",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex HospitalNumber();

    /// <summary>
    /// Seven digits announced as a doctor's number, or a nurse's number: two digits, a letter, four digits, a letter (from memory).
    /// </summary>
    [GeneratedRegex(@"\bGMC\W{0,3}(?:no|num(?:ber)?|ref)?\W{0,3}\d{7}(?!\d)|\bHCPC\W{0,3}(?:no|num(?:ber)?|"
        + @"ref)?\W{0,3}[A-Z]{2,3}\d{5,6}(?!\d)|(?<![\w-])\d{2}[A-Z]\d{4}[A-Z](?![\w-])",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex Registration();

    /// <summary>Digits announced as a national number by its name or abbreviation; which digits, nobody checks.</summary>
    [GeneratedRegex(@"\b(?:BSN|burgerservicenummer|sofi-?nummer|NIR|KVNR|Versichertennummer|Versichertennr|Steuer-?ID|SVNR|AHV|AVS|DNI|NIE|"
        + @"PPS|PPSN|NINO|SSN|SIN|MBI|Medicare|IHI|NHI|PESEL|CPR-?n(?:r|ummer)|fnr|f[øo]dselsn(?:r|ummer)|personn(?:r|ummer)|"
        + @"(?:num[ée]ro|n°|no) (?:de )?s[ée]cu(?:rit[ée] sociale)?|rijksregister(?:nummer)?|hetu|henkil[öo]tunnus)\.?"
        + @"(?: ?(?:no|nr|num|number|nummer|num[ée]ro|n°))?\W{0,3}[A-Z]{0,2}\d(?:[ ./-]?\d){6,14}",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex Announced();

    /// <summary>The name of a file of an image, a scan or a film.</summary>
    [GeneratedRegex(@"[\w)-]\.(?:jpe?g|png|tiff?|bmp|gif|heic|webp|dcm|dicom|mp4|m4v|mov|avi|wmv)\b",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    public static partial Regex ImageFile();

    /// <summary>
    /// Plates as printed (common practice): United Kingdom AB12 CDE, France and Italy AB-123-CD, Germany M-AB 1234; or any announced.
    /// </summary>
    [GeneratedRegex(@"(?<![\w-])(?:[A-HJ-PR-Y][A-HJ-PR-Y]\d\d [A-HJ-PR-Z]{3}|[A-HJ-NP-TV-Z]{2}-\d{3}-[A-HJ-NP-TV-Z]{2}|"
        + @"[A-ZÄÖÜ]{1,3}-[A-Z]{1,2} \d{1,4})(?![\w-])|\b(?i:number plate|licence plate|license plate|vehicle reg(?:istration)?)"
        + @"\W{1,3}[A-Z0-9]{2,4}[ -]?[A-Z0-9]{2,4}")]
    public static partial Regex Plate();
}
