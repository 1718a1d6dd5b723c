using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The first page of the demonstration as a reader meets it: short sentences, an easy grade, and none of the words that read as translated.
/// </summary>
public sealed partial class ReadingTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private const int LongestSentence = 25;

    private string FirstSide => Side(File.ReadAllText(demo["report.html"]));

    [Fact]
    public void No_sentence_of_the_first_page_has_more_than_25_words()
    {
        var sentences = Sentences(Prose(FirstSide)).ToArray();
        Assert.True(sentences.Length >= 12, $"{sentences.Length} sentences");
        Assert.All(sentences, sentence => Assert.True(Words(sentence).Length <= LongestSentence, sentence));
    }

    [Fact]
    public void It_has_three_to_five_statements() => Assert.InRange(Statement().Count(FirstSide), 3, 5);

    /// <summary>
    /// Kincaid JP, Fishburne RP, Rogers RL, Chissom BS. Research Branch Report 8-75, Naval Technical Training, 1975: 0.39 words a sentence
    /// + 11.8 syllables a word − 15.59. Syllables are counted as groups of vowels (common practice), numbers are left out.
    /// </summary>
    [Fact]
    public void Its_prose_without_the_names_of_measures_has_a_flesch_kincaid_grade_of_at_most_9()
    {
        var text = Prose(FirstSide);
        foreach (var title in Title().Matches(FirstSide).Select(match => Text(match.Groups[1].Value))
            .OrderByDescending(title => title.Length))
            text = text.Replace(title, "it", StringComparison.OrdinalIgnoreCase);
        var sentences = Sentences(text).Select(Words).Select(words => words.Where(word => word.Any(char.IsLetter)).ToArray())
            .Where(words => words.Length > 0).ToArray();
        var (words, syllables) = (sentences.Sum(sentence => sentence.Length), sentences.Sum(sentence => sentence.Sum(Syllables)));
        var grade = (0.39 * words / sentences.Length) + (11.8 * syllables / words) - 15.59;
        Assert.InRange(grade, 0, 9);
    }

    // The formula's own scale: "The cat sat on the mat." is six syllables in six words.
    [Theory]
    [InlineData("cat", 1)]
    [InlineData("procedure", 3)]
    [InlineData("intubation", 4)]
    [InlineData("made", 1)]
    [InlineData("table", 2)]
    public void Syllables_are_counted_as_a_reader_says_them(string word, int syllables) => Assert.Equal(syllables, Syllables(word));

    [Theory]
    [InlineData("report.html")]
    [InlineData("appendix.html")]
    public void No_page_uses_a_word_that_was_given_up(string page)
    {
        var text = Text(File.ReadAllText(demo[page]));
        Assert.True(!GivenUp().IsMatch(text), GivenUp().Match(text) is { Success: true } found
            ? text[Math.Max(0, found.Index - 80)..Math.Min(text.Length, found.Index + 80)] : "");
    }

    [Theory]
    [InlineData("Silence is not proof.")]
    [InlineData("This is told once.")]
    [InlineData("First to mend in the data")]
    public void A_word_that_was_given_up_would_be_found(string text) => Assert.Matches(GivenUp(), text);

    [Fact]
    public void The_report_ends_with_a_glossary_of_25_terms() =>
        Assert.Equal(25, Glossary().Match(File.ReadAllText(demo["report.html"])).Value.Split("<dt>").Length - 1);

    private static string Side(string page)
    {
        var side = page[page.IndexOf("<section class=\"side\"", StringComparison.Ordinal)..];
        return side[..side.IndexOf("</section>", StringComparison.Ordinal)];
    }

    // Paragraphs and statements; tables are cells, not sentences.
    private static string Prose(string side) => string.Join('\n',
        Paragraph().Matches(Table().Replace(side, "")).Select(match => Text(match.Value)));

    private static string Text(string html) =>
        Space().Replace(WebUtility.HtmlDecode(Tag().Replace(Style().Replace(html, " "), " ")).Replace('\u00a0', '_'), " ").Trim();

    private static IEnumerable<string> Sentences(string text) =>
        text.Split('\n').SelectMany(line => SentenceEnd().Split(line)).Select(sentence => sentence.Trim()).Where(each => each.Length > 0);

    private static string[] Words(string sentence) => sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static int Syllables(string word)
    {
        var letters = new string([.. word.ToLowerInvariant().Where(char.IsLetter)]);
        var groups = VowelGroup().Count(letters);
        // A last e is silent, unless it is all there is or stands behind a consonant and l.
        return Math.Max(1, groups - (SilentE().IsMatch(letters) ? 1 : 0));
    }

    [GeneratedRegex("<li data-topic=")]
    private static partial Regex Statement();

    [GeneratedRegex("""<th scope="row">(?:<a [^>]*>)?([^<]+)""")]
    private static partial Regex Title();

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

    [GeneratedRegex(@"(?<=[.!?])\s+(?=[A-Z0-9*])")]
    private static partial Regex SentenceEnd();

    [GeneratedRegex("[aeiouy]+")]
    private static partial Regex VowelGroup();

    [GeneratedRegex("[^aeiouyl]e$|[aeiouy]le$")]
    private static partial Regex SilentE();

    [GeneratedRegex("""<dl class="glossary">.*?</dl>""", RegexOptions.Singleline)]
    private static partial Regex Glossary();

    // The left column of the table in the guide to plain English, by its words.
    [GeneratedRegex(@"\b([Ss]ilence|told (once|again)|believed|let expect|to mend|is mended|none possible|cannot be told apart|fit one rate"
        + @"|fits these numbers|foretells?|foretold|hardly ever|Prepared for trouble|Of those that say|for the record|[Tt]he watch)\b")]
    private static partial Regex GivenUp();
}
