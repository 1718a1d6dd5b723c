using System.Text;
using CsCheck;
using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>Each detector on texts that hold what it looks for, and on texts that resemble it.</summary>
public class DetectTests
{
    // Modulus 11 (NHS Data Dictionary, "NHS NUMBER"), worked by hand in HeaderScreenTests: 999 000 0018 passes, 999 000 0017 does not.
    [Theory]
    [InlineData("999 000 0018", Identifier.NhsForm)]
    [InlineData("999-000-0018", Identifier.NhsForm)]
    [InlineData("999.000.0018", Identifier.NhsForm)]
    [InlineData("999\u00A0000\u00A00018", Identifier.NhsForm)]
    [InlineData("pt (999 000 0018) moved", Identifier.NhsForm)]
    [InlineData("9990000018", Identifier.NhsNumber)]
    [InlineData("9990000018.0", Identifier.NhsNumber)]
    [InlineData("9990000018.00", Identifier.NhsNumber)]
    [InlineData("9.990000018E9", Identifier.NhsNumber)]
    [InlineData("9.990000018e+09", Identifier.NhsNumber)]
    [InlineData("99 90 00 00 18", Identifier.NhsNumber)]
    [InlineData("seen as 9990000018, then moved", Identifier.NhsNumber)]
    [InlineData("NHS9990000018", Identifier.NhsNumber)]
    [InlineData("nhs:9990000018", Identifier.NhsNumber)]
    [InlineData("9.99E9", Identifier.Rounded)]
    [InlineData("9.99E+09", Identifier.Rounded)]
    public void A_number_that_passes_the_check_in_any_form(string text, Identifier kind) =>
        Assert.Equal(kind, Detect.In(text) & ~IdentifierSets.Counted);

    [Theory]
    [InlineData("999 000 0017")]
    [InlineData("9990000017")]
    [InlineData("9990000018.5")]
    [InlineData("0.9990000018")]
    [InlineData("99900000182")]
    [InlineData("R9990000018")]
    [InlineData("9990000018a")]
    [InlineData("1111111111")]
    [InlineData("000 000 0000")]
    [InlineData("9.99E8")]
    [InlineData("1.5E12")]
    [InlineData("9E")]
    public void A_number_that_does_not(string text) =>
        Assert.Equal(Identifier.None, Detect.In(text) & IdentifierSets.Numbers & ~IdentifierSets.Counted);

    // Ranges: third-party documents on NHS numbers; CHI starts with the date of birth, DDMMYY.
    [Fact]
    public void The_range_of_a_passing_number_names_it()
    {
        Assert.Equal(Identifier.Chi | Identifier.TenDigits, Detect.In(TestNumbers.Completed("290200", 0)));
        Assert.Equal(Identifier.NhsNumber | Identifier.TenDigits, Detect.In(TestNumbers.Completed("300200", 0)));
        Assert.Equal(Identifier.HealthAndCare | Identifier.TenDigits, Detect.In(TestNumbers.Completed("3999", 0)));
        Assert.Equal(Identifier.NhsNumber | Identifier.TenDigits, Detect.In(TestNumbers.Passing(1)));
    }

    // Elementary, for weights 10 to 1 over all ten digits: one wrong digit or one swap of two different neighbours changes the sum
    // by a number that 11 does not divide, so both are always noticed.
    [Fact]
    public void One_wrong_digit_or_one_swap_of_neighbours_never_passes() =>
        Gen.Select(Gen.Int[0, 999_999], Gen.Int[0, 9], Gen.Int[1, 9]).Sample((serial, place, step) =>
        {
            var good = Encoding.ASCII.GetBytes(TestNumbers.Passing(serial));
            Assert.True(TenDigits.Pass(good));
            var wrong = good.ToArray();
            wrong[place] = (byte)('0' + ((wrong[place] - '0' + step) % 10));
            Assert.False(TenDigits.Pass(wrong));
            var swapped = good.ToArray();
            var left = Math.Min(place, 8);
            (swapped[left], swapped[left + 1]) = (swapped[left + 1], swapped[left]);
            Assert.Equal(good[left] == good[left + 1], TenDigits.Pass(swapped));
        });

    [Theory]
    [InlineData("a.person@example.org", Identifier.Email)]
    [InlineData("write to a_person+1@mail.example.org.", Identifier.Email)]
    [InlineData("07700 900123", Identifier.Phone)] // Ofcom's numbers for drama
    [InlineData("07700900123", Identifier.Phone)]
    [InlineData("+44 7700 900123", Identifier.Phone)]
    [InlineData("+44 (0)20 7946 0123", Identifier.Phone)]
    [InlineData("call 020 7946 0123 please", Identifier.Phone)]
    [InlineData("(0121) 496 0123", Identifier.Phone)]
    [InlineData("https://example.org/x", Identifier.Web)]
    [InlineData("see www.example.org", Identifier.Web)]
    [InlineData("from 192.0.2.14", Identifier.Web)]
    [InlineData("Mr Example", Identifier.TitledName)]
    [InlineData("by Dr. A. O'Example", Identifier.TitledName)]
    [InlineData("MRS EXAMPLE", Identifier.TitledName)]
    [InlineData("pt Anna Example", Identifier.TitledName)]
    [InlineData("Name: Anna Example", Identifier.TitledName)]
    [InlineData("12 Mar 1961", Identifier.BirthDate)]
    [InlineData("12/03/1961", Identifier.BirthDate)]
    [InlineData("1961-03-12", Identifier.BirthDate)]
    [InlineData("12.03.1961", Identifier.BirthDate)]
    [InlineData("12/03/61", Identifier.BirthDate)]
    [InlineData("3/4/61", Identifier.BirthDate)]
    [InlineData("b. 3.4.12", Identifier.BirthDate)]
    [InlineData("March 12, 1961", Identifier.BirthDate)]
    [InlineData("3rd March 1961", Identifier.BirthDate)]
    [InlineData("3/25/1961", Identifier.BirthDate)]
    [InlineData("DOB 12/03/2004", Identifier.BirthDate)]
    [InlineData("born on 12 Mar 2004", Identifier.BirthDate)]
    [InlineData("A1234567", Identifier.HospitalNumber)]
    [InlineData("seen, x123456", Identifier.HospitalNumber)]
    [InlineData("MRN 00123456", Identifier.HospitalNumber)]
    [InlineData("Hosp no: RXX12345", Identifier.HospitalNumber)]
    [InlineData("GMC 1234567", Identifier.Registration)]
    [InlineData("GMC no. 1234567", Identifier.Registration)]
    [InlineData("99A0000E", Identifier.Registration)]
    public void A_text_that_holds_one(string text, Identifier kind) => Assert.Equal(kind, Detect.In(text) & ~IdentifierSets.Counted);

    [Theory]
    [InlineData("SpO2 @ 94 %")]
    [InlineData("a@b")]
    [InlineData("2024-03-31 08:15:00")]
    [InlineData("31/03/2024")]
    [InlineData("12:03:61")]
    [InlineData("0.1234567890")]
    [InlineData("1961")]
    [InlineData("tube 8.0 at 22.5 cm")]
    [InlineData("rocuronium 100 mg, ketamine 120 mg")]
    [InlineData("MR scan first")]
    [InlineData("Dr not named")]
    [InlineData("pt moved to Intensive Care")]
    [InlineData("Videolaryngoscope size 4")]
    [InlineData("A12345")]
    [InlineData("A123456789")]
    [InlineData("1.2.3")]
    [InlineData("version 300.1.1.1")]
    [InlineData("J96.0")]
    [InlineData("99A000E")]
    [InlineData("1234567")]
    public void A_text_that_only_resembles_one(string text) => Assert.Equal(Identifier.None, Detect.In(text) & ~IdentifierSets.Counted);

    // The published format (BS 7666): A9 9AA, A99 9AA, A9A 9AA, AA9 9AA, AA99 9AA, AA9A 9AA and GIR 0AA.
    [Theory]
    [InlineData("M1 1AA")]
    [InlineData("M60 1NW")]
    [InlineData("W1A 1HQ")]
    [InlineData("CR2 6XH")]
    [InlineData("DN55 1PT")]
    [InlineData("EC1A 1BB")]
    [InlineData("GIR 0AA")]
    [InlineData("ec1a1bb")]
    [InlineData("lives at EC1A 1BB, alone")]
    public void Every_form_of_a_postcode(string text) => Assert.Equal(Identifier.Postcode, Detect.In(text));

    [Theory]
    [InlineData("XEC1A 1BB")]
    [InlineData("EC1A 1BBX")]
    [InlineData("QX1 1AA")] // no such area
    [InlineData("EC1Z 1BB")] // Z does not stand there
    [InlineData("M1 1AC")] // C does not stand in the inward part
    [InlineData("S1 2MG")]
    [InlineData("G3 1st pregnancy")]
    [InlineData("L4 5th rib")]
    [InlineData("f9wz7hm4qp")]
    [InlineData("SpO2 88")]
    public void No_postcode(string text) => Assert.Equal(Identifier.None, Detect.In(text));

    [Fact]
    public void A_key_may_look_like_a_pseudonym_but_not_like_a_number_of_a_patient()
    {
        foreach (var good in (string[])["A1234567", "99A0000E", "E12AB", "07700900123", "9990000017"])
            Assert.Equal(Identifier.None, Detect.In(good, IdentifierSets.OfKeys) & ~IdentifierSets.Counted);
        foreach (var bad in (string[])["9990000018", "999 000 0018", "E1 2AB", "a@example.org", "Mr Example"])
            Assert.NotEqual(Identifier.None, Detect.In(bad, IdentifierSets.OfKeys) & ~IdentifierSets.Counted);
    }

    // The look at the bytes decides what is read closely: it must never say no where the close reading says yes.
    [Fact]
    public void The_first_look_leaves_nothing_out() =>
        Gen.Select(Gen.Int[0, 1_000_000], Gen.Int[0, Corpus.Kinds.Length - 1]).Sample((seed, kind) =>
        {
            var text = Corpus.Planted(Corpus.Kinds[kind], Corpus.Fakers(seed));
            Assert.Equal(Detect.Closely(Encoding.UTF8.GetBytes(text), IdentifierSets.OfUnread, IdentifierSets.OfUnread),
                Detect.In(text, IdentifierSets.OfUnread));
        }, iter: 500);

    [Fact]
    public void Any_text_is_read_without_failing() => Gen.String.Sample(text => Detect.In(text));
}
