using CsCheck;
using Outcomes.Records;

namespace Outcomes.Tests;

public class FormulaGuardTests
{
    // The characters are those of the OWASP page "CSV Injection", and line feed, which some spreadsheets treat as carriage return.
    private static readonly Gen<string> Texts = Gen.OneOf(Gen.String, Gen.Char["='+-@\t\r\na1 "].Array.Select(chars => new string(chars)));

    [Fact]
    public void What_is_guarded_never_starts_a_formula() => Texts.Sample(text =>
    {
        var guarded = FormulaGuard.On(text);
        return guarded.Length == 0 || !"=+-@\t\r\n".Contains(guarded[0], StringComparison.Ordinal);
    });

    [Fact]
    public void Bytes_lose_their_guard_as_text_does() => Texts.Where(text => !text.Any(char.IsSurrogate)).Sample(text =>
        System.Text.Encoding.UTF8.GetString(FormulaGuard.Off(System.Text.Encoding.UTF8.GetBytes(text))) == FormulaGuard.Off(text));

    [Fact]
    public void Taking_the_guard_off_gives_back_every_text() => Texts.Sample(text => FormulaGuard.Off(FormulaGuard.On(text)) == text);

    [Fact]
    public void Two_texts_never_look_alike_once_guarded() =>
        Texts.Select(Texts).Sample((a, b) => a == b || FormulaGuard.On(a) != FormulaGuard.On(b));

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("-5", "'-5")]
    [InlineData("'=1", "''=1")]
    [InlineData("o'clock", "o'clock")]
    [InlineData("'tis", "'tis")]
    [InlineData("", "")]
    public void A_guard_is_one_apostrophe_where_it_is_needed(string text, string guarded) => Assert.Equal(guarded, FormulaGuard.On(text));

    [Theory]
    [InlineData("'tis")]
    [InlineData("'")]
    [InlineData("plain")]
    public void A_text_that_was_never_guarded_keeps_its_apostrophe(string text) => Assert.Equal(text, FormulaGuard.Off(text));
}
