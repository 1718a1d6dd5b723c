using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Tests.Ingestion;

public class HeaderScreenTests
{
    [Theory]
    [InlineData("NHS Number")]
    [InlineData("nhs_no")]
    [InlineData("CHI")]
    [InlineData("Hospital No.")]
    [InlineData("MRN")]
    [InlineData("Patient name")]
    [InlineData("Surname")]
    [InlineData("D.O.B.")]
    [InlineData("Date of birth")]
    [InlineData("Post code")]
    [InlineData("E-mail")]
    [InlineData("GMC number")]
    public void A_heading_that_names_an_identifier(string heading) => Assert.True(HeaderScreen.NamesAnIdentifier(heading));

    [Theory]
    [InlineData("Case ref")]
    [InlineData("Age (years)")]
    [InlineData("Plan")]
    [InlineData("Device name used")]
    [InlineData("Site")]
    public void A_heading_that_does_not(string heading) => Assert.False(HeaderScreen.NamesAnIdentifier(heading));

    // NHS number check: modulus 11, weights 10 to 2 (NHS Data Dictionary, "NHS NUMBER"). The numbers lie in the range kept for tests, 999
    // 000 0000 and up; check digits worked by hand: 9*10+9*9+9*8 = 243, +0 ... = 243; 243 mod 11 = 1; 11-1 = 10 -> 999 000 000x has no
    // valid digit; 999 000 0018: 243 + 1*2 = 245, 245 mod 11 = 3, 11-3 = 8.
    [Theory]
    [InlineData("9990000018", true)]
    [InlineData("9990000017", false)]
    [InlineData("9990000000", false)]
    [InlineData("999000001", false)]
    public void The_check_digit_is_modulus_11(string digits, bool passes) =>
        Assert.Equal(passes, TenDigits.Pass(System.Text.Encoding.ASCII.GetBytes(digits)));

    [Theory]
    [InlineData("999 000 0018", true)]
    [InlineData("999-000-0018", true)]
    [InlineData("9990000018", true)]
    [InlineData("999 000 0017", false)]
    [InlineData("attempt 9990000018", true)]
    [InlineData("someone@example.org", true)]
    public void A_heading_that_is_an_identifier(string heading, bool is_one) => Assert.Equal(is_one, HeaderScreen.IsAnIdentifier(heading));
}
