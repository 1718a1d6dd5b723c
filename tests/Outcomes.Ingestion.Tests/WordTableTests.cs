using System.Text;
using CsCheck;
using Outcomes.Ingestion.Parsing;

namespace Outcomes.Tests.Ingestion;

public class WordTableTests
{
    [Fact]
    public void Finds_exactly_the_words_it_was_given() =>
        Gen.String[Gen.Char["abyz01 -é"], 0, 12].Array[0, 60].Sample(words =>
        {
            var expected = words.Distinct().Select((word, i) => (word, i)).ToDictionary(pair => pair.word, pair => pair.i - 3);
            var table = new WordTable(expected);
            foreach (var (word, value) in expected)
                if (!table.TryFind(Encoding.UTF8.GetBytes(word), out var found) || found != value) return false;
            return words.All(word => expected.ContainsKey(word + "x") || !table.TryFind(Encoding.UTF8.GetBytes(word + "x"), out _));
        });

    [Fact]
    public void An_empty_table_finds_nothing() => Assert.False(new WordTable(new Dictionary<string, int>()).TryFind("a"u8, out _));
}
