using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The first page of the demonstration as a reader meets it: short sentences, an easy grade, and none of the words that read as translated.
/// </summary>
public sealed partial class ReadingTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private string FirstSide => Prose.FirstSide(File.ReadAllText(demo["report.html"]));

    [Fact]
    public void No_sentence_of_the_first_page_has_more_than_25_words()
    {
        var sentences = Prose.Sentences(Prose.Of(FirstSide)).ToArray();
        Assert.True(sentences.Length >= 12, $"{sentences.Length} sentences");
        Assert.All(sentences, sentence => Assert.True(Prose.Words(sentence).Length <= Prose.LongestSentence, sentence));
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
        var text = Prose.Of(FirstSide);
        foreach (var title in Title().Matches(FirstSide).Select(match => Prose.Text(match.Groups[1].Value))
            .OrderByDescending(title => title.Length))
            text = text.Replace(title, "it", StringComparison.OrdinalIgnoreCase);
        var sentences = Prose.Sentences(text).Select(Prose.Words).Select(words => words.Where(word => word.Any(char.IsLetter)).ToArray())
            .Where(words => words.Length > 0).ToArray();
        var (words, syllables) = (sentences.Sum(sentence => sentence.Length), sentences.Sum(sentence => sentence.Sum(Prose.Syllables)));
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
    public void Syllables_are_counted_as_a_reader_says_them(string word, int syllables) => Assert.Equal(syllables, Prose.Syllables(word));

    [Theory]
    [InlineData("report.html")]
    [InlineData("appendix.html")]
    public void No_page_uses_a_word_that_was_given_up(string page)
    {
        var text = Prose.Text(File.ReadAllText(demo[page]));
        Assert.True(!Prose.GivenUp().IsMatch(text), Prose.GivenUp().Match(text) is { Success: true } found
            ? text[Math.Max(0, found.Index - 80)..Math.Min(text.Length, found.Index + 80)] : "");
    }

    [Theory]
    [InlineData("Silence is not proof.")]
    [InlineData("This is told once.")]
    [InlineData("First to mend in the data")]
    public void A_word_that_was_given_up_would_be_found(string text) => Assert.Matches(Prose.GivenUp(), text);

    [Fact]
    public void The_report_ends_with_a_glossary_of_25_terms() =>
        Assert.Equal(25, Glossary().Match(File.ReadAllText(demo["report.html"])).Value.Split("<dt>").Length - 1);

    [GeneratedRegex("<li data-topic=")]
    private static partial Regex Statement();

    [GeneratedRegex("""<th scope="row">(?:<a [^>]*>)?([^<]+)""")]
    private static partial Regex Title();

    [GeneratedRegex("""<dl class="glossary">.*?</dl>""", RegexOptions.Singleline)]
    private static partial Regex Glossary();
}
