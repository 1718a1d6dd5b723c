using System.Globalization;
using System.Text;
using CsCheck;
using Outcomes.Ingestion.Parsing;

namespace Outcomes.Tests.Ingestion;

public class StrictTests
{
    // Each text is one that a common reader takes for a number: base prefixes, exponents, digit separators, words, signs, spaces, other
    // scripts' digits.
    [Theory]
    [InlineData("0x10")]
    [InlineData("1_0")]
    [InlineData("1e2")]
    [InlineData("98.6")]
    [InlineData("94%")]
    [InlineData("+5")]
    [InlineData("1,000")]
    [InlineData("")]
    [InlineData("-")]
    [InlineData("--5")]
    [InlineData("5 ")]
    [InlineData("٣")]
    [InlineData("yes")]
    [InlineData("nan")]
    [InlineData("1234567890")]
    public void No_whole_number(string cell) => Assert.False(Strict.TryInteger(Encoding.UTF8.GetBytes(cell), out _));

    [Theory]
    [InlineData("0x1p3")]
    [InlineData("1e2")]
    [InlineData("inf")]
    [InlineData("nan")]
    [InlineData("1.")]
    [InlineData(".5")]
    [InlineData("1.2.3")]
    [InlineData("1,5")]
    [InlineData("3 min")]
    [InlineData("1234567890.123456")]
    public void No_number(string cell) => Assert.False(Strict.TryNumber(Encoding.UTF8.GetBytes(cell), out _));

    [Fact]
    public void Whole_numbers_come_back_as_written() => Gen.Int[-999_999_999, 999_999_999].Sample(n =>
        Strict.TryInteger(Encoding.UTF8.GetBytes(n.ToString(CultureInfo.InvariantCulture)), out var read) && read == n);

    // The framework's parser is correctly rounded (IEEE 754): ours must give the same double for every text of up to 15 digits.
    [Fact]
    public void Numbers_are_rounded_as_the_framework_rounds_them() =>
        Gen.Select(Gen.Long[-999_999_999_999_999, 999_999_999_999_999], Gen.Int[1, 14]).Sample((mantissa, decimals) =>
        {
            var digits = Math.Abs(mantissa).ToString(CultureInfo.InvariantCulture).PadLeft(decimals + 1, '0');
            if (digits.Length > 15) return true;
            var text = (mantissa < 0 ? "-" : "") + digits[..^decimals] + "." + digits[^decimals..];
            return Strict.TryNumber(Encoding.UTF8.GetBytes(text), out var read)
                && BitConverter.DoubleToInt64Bits(read) == BitConverter.DoubleToInt64Bits(double.Parse(text, CultureInfo.InvariantCulture));
        });

    [Fact]
    public void Trimming_takes_non_breaking_spaces_too() =>
        Assert.Equal("97", Encoding.UTF8.GetString(Strict.Trim("\u00A0 97\t\u00A0"u8)));
}
