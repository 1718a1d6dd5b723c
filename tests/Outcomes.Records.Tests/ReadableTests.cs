using Outcomes.Records;

namespace Outcomes.Tests;

public class ReadableTests
{
    [Theory]
    [InlineData("Saturation at induction", "saturation at induction")]
    [InlineData("SpO2 at induction", "SpO2 at induction")]
    [InlineData("MACOCHA score", "MACOCHA score")]
    [InlineData("A", "A")]
    public void A_title_within_a_sentence_begins_small_unless_it_is_an_abbreviation(string title, string within) =>
        Assert.Equal(within, Readable.WithinSentence(title));

    [Theory]
    [InlineData("senior_trainee", "Senior trainee")]
    [InlineData("22-08", "22-08")]
    [InlineData("", "")]
    public void A_name_without_a_title_keeps_its_own_words(string name, string words) => Assert.Equal(words, Readable.Words(name));
}
