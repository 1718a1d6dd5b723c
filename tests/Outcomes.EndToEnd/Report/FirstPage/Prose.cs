using System.Net;
using System.Text.RegularExpressions;

namespace Outcomes.Tests.EndToEnd;

/// <summary>A page as a reader meets it: its prose, sentence by sentence, and the words that were given up.</summary>
internal static partial class Prose
{
    /// <summary>Words that a sentence of the first page may have.</summary>
    public const int LongestSentence = 25;

    public static string FirstSide(string page)
    {
        var side = page[page.IndexOf("<section class=\"side\"", StringComparison.Ordinal)..];
        return side[..side.IndexOf("</section>", StringComparison.Ordinal)];
    }

    // Paragraphs and statements; tables are cells, not sentences.
    public static string Of(string side) => string.Join('\n',
        Paragraph().Matches(Table().Replace(side, "")).Select(match => Text(match.Value)));

    public static string Text(string html) =>
        Space().Replace(WebUtility.HtmlDecode(Tag().Replace(Style().Replace(html, " "), " ")).Replace('\u00a0', '_'), " ").Trim();

    public static IEnumerable<string> Sentences(string text) =>
        text.Split('\n').SelectMany(line => SentenceEnd().Split(line)).Select(sentence => sentence.Trim()).Where(each => each.Length > 0);

    public static string[] Words(string sentence) => sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    public static int Syllables(string word)
    {
        var letters = new string([.. word.ToLowerInvariant().Where(char.IsLetter)]);
        var groups = VowelGroup().Count(letters);
        // A last e is silent, unless it is all there is or stands behind a consonant and l.
        return Math.Max(1, groups - (SilentE().IsMatch(letters) ? 1 : 0));
    }

    [GeneratedRegex("<(p|li)[ >].*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Paragraph();

    [GeneratedRegex("<table.*?</table>", RegexOptions.Singleline)]
    private static partial Regex Table();

    [GeneratedRegex("<style.*?</style>|<svg.*?</svg>|<code>.*?</code>", RegexOptions.Singleline)]
    private static partial Regex Style();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();

    [GeneratedRegex("\\s+")]
    private static partial Regex Space();

    [GeneratedRegex(@"(?<=[.!?])\s+(?=[A-Z0-9*“])")]
    private static partial Regex SentenceEnd();

    [GeneratedRegex("[aeiouy]+")]
    private static partial Regex VowelGroup();

    [GeneratedRegex("[^aeiouyl]e$|[aeiouy]le$")]
    private static partial Regex SilentE();

    // The left column of the table in the guide to plain English, by its words.
    [GeneratedRegex(@"\b([Ss]ilence|told (once|again)|believed|let expect|to mend|is mended|none possible|cannot be told apart|fit one rate"
        + @"|fits these numbers|foretells?|foretold|hardly ever|Prepared for trouble|Of those that say|for the record|[Tt]he watch)\b")]
    public static partial Regex GivenUp();
}
