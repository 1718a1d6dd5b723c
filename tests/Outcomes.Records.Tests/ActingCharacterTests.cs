using CsCheck;
using Outcomes.Records;

namespace Outcomes.Tests;

/// <summary>
/// Characters that act on a terminal or turn a line around (ECMA-48, UAX 9) are written as their code point, and read back.
/// </summary>
public class ActingCharacterTests
{
    private static readonly Gen<string> Texts = Gen.OneOf(Gen.Char["\u001b\u009b\u202e\u2069\u200f{U+001B}{++9＝＋－＠='a\t\ufeff"].Array
        .Select(chars => new string(chars)), Gen.String);

    [Theory]
    [InlineData("\u001b[31m", "{U+001B}[31m")]
    [InlineData("a\u202eb", "a{U+202E}b")]
    [InlineData("\u200f=1", "{U+200F}=1")]
    [InlineData("＝1+1", "'＝1+1")]
    [InlineData("＋1", "'＋1")]
    [InlineData("－1", "'－1")]
    [InlineData("＠a", "'＠a")]
    [InlineData("{U+001B}", "{U++001B}")]
    [InlineData("{U++202E}", "{U+++202E}")]
    [InlineData("{U+0041}", "{U+0041}")]
    [InlineData("{U+", "{U+")]
    [InlineData("two\nlines\tand a tab", "two\nlines\tand a tab")]
    public void What_acts_is_written_so_that_it_shows(string text, string written)
    {
        Assert.Equal(written, FormulaGuard.On(text));
        Assert.Equal(text, FormulaGuard.Off(written));
    }

    [Fact]
    public void Nothing_that_acts_is_left_and_every_text_comes_back() => Texts.Sample(text =>
    {
        var written = FormulaGuard.On(text);
        return !ActingCharacters.In(written) && (written.Length == 0 || !"=+-@＝＋－＠\t\r\n".Contains(written[0], StringComparison.Ordinal))
            && FormulaGuard.Off(written) == text && (FormulaGuard.Changes(text) || written == text);
    });

    [Fact]
    public void Two_texts_never_look_alike() =>
        Texts.Select(Texts).Sample((one, other) => one == other || FormulaGuard.On(one) != FormulaGuard.On(other));
}
