using System.Numerics;
using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>Ids and explanations of what the detectors find. The ids are a stable contract; no text here comes from a cell.</summary>
public static class IdentifierRules
{
    /// <summary>Room for the bits of <see cref="Identifier"/>.</summary>
    public const int Bits = 24;

    /// <summary>A column of text in which hardly a value repeats.</summary>
    public const CellRule UniqueText = CellRule.Identifier + Bits;

    /// <summary>A column that a person has checked and that is therefore not searched.</summary>
    public const CellRule ColumnChecked = CellRule.Identifier + Bits + 1;

    /// <summary>A column of names by their form.</summary>
    public const CellRule NameColumn = CellRule.Identifier + Bits + 2;

    /// <summary>A column of dates of birth by the spread of their years.</summary>
    public const CellRule BirthColumn = CellRule.Identifier + Bits + 3;

    /// <summary>A column for which a person has lifted some rules; it is searched for everything else.</summary>
    public const CellRule RulesLifted = CellRule.Identifier + Bits + 4;

    /// <summary>A column of numbers that pass a country's check digits more often than chance allows.</summary>
    public const CellRule NationalColumn = CellRule.Identifier + Bits + 5;

    /// <summary>A column of initials.</summary>
    public const CellRule InitialsColumn = CellRule.Identifier + Bits + 6;

    /// <summary>A column of addresses.</summary>
    public const CellRule AddressColumn = CellRule.Identifier + Bits + 7;

    /// <summary>A column of number plates.</summary>
    public const CellRule PlateColumn = CellRule.Identifier + Bits + 8;

    /// <summary>A column of telephone numbers.</summary>
    public const CellRule PhoneColumn = CellRule.Identifier + Bits + 9;

    /// <summary>The rule on headings that name a direct identifier.</summary>
    public const string IdentifyingHeading = "identifying_column";

    /// <summary>The rule of one kind; of several the lowest, which is the gravest.</summary>
    public static CellRule Of(Identifier found) =>
        CellRule.Identifier + (byte)BitOperations.TrailingZeroCount((uint)(found & ~IdentifierSets.Counted));

    public static string Id(CellRule rule) => rule switch
    {
        UniqueText => "identifier_unique_text",
        ColumnChecked => "column_checked",
        RulesLifted => "column_checked",
        NameColumn => "identifier_name_column",
        BirthColumn => "identifier_birth_date_column",
        NationalColumn => "identifier_national_number_column",
        InitialsColumn => "identifier_initials_column",
        AddressColumn => "identifier_address_column",
        PlateColumn => "identifier_number_plate_column",
        PhoneColumn => "identifier_phone_column",
        _ => KindOf(rule) switch
        {
            Identifier.NhsForm => "identifier_nhs_number_as_printed",
            Identifier.NhsNumber => "identifier_nhs_number",
            Identifier.Chi => "identifier_chi_number",
            Identifier.HealthAndCare => "identifier_health_and_care_number",
            Identifier.TenDigits => "identifier_ten_digits",
            Identifier.Rounded => "identifier_rounded_number",
            Identifier.Email => "identifier_email",
            Identifier.Postcode => "identifier_postcode",
            Identifier.Phone => "identifier_phone",
            Identifier.Web => "identifier_web_address",
            Identifier.TitledName => "identifier_name",
            Identifier.BirthDate => "identifier_birth_date",
            Identifier.HospitalNumber => "identifier_hospital_number",
            Identifier.Registration => "identifier_registration_number",
            Identifier.BareName => "identifier_name_form",
            Identifier.Unissued => "identifier_ten_digits",
            Identifier.NationalForm => "identifier_national_number_as_printed",
            Identifier.NationalNumber => "identifier_national_number",
            Identifier.ImageFile => "identifier_image_file",
            Identifier.Address => "identifier_address",
            Identifier.Plate => "identifier_number_plate",
            var kind => throw new ArgumentOutOfRangeException(nameof(rule), kind, "no such rule"),
        },
    };

    /// <summary>What the cell looks like, as the end of a sentence.</summary>
    public static string What(CellRule rule) => rule switch
    {
        NameColumn => "a list of persons' names",
        BirthColumn => "dates of birth (their years spread as people's ages do)",
        UniqueText => "text in which hardly a value repeats, as in a column of names or numbers of patients",
        NationalColumn => "national numbers (more of them pass a country's check digits than chance allows)",
        InitialsColumn => "persons' initials",
        AddressColumn => "addresses",
        PlateColumn => "number plates",
        PhoneColumn => "telephone or hospital numbers",
        _ => OfCell(rule),
    };

    private static string OfCell(CellRule rule) => KindOf(rule) switch
    {
        Identifier.NhsForm => "an NHS number as it is printed (3-3-4 digits, check digit right)",
        Identifier.NhsNumber => "an NHS number (ten digits, check digit right)",
        Identifier.Chi => "a CHI number (ten digits from a date, check digit right)",
        Identifier.HealthAndCare => "a Health and Care number (ten digits, check digit right)",
        Identifier.BareName => "a person's name by its form",
        Identifier.TenDigits or Identifier.Unissued => "ten-digit numbers, more of which pass the NHS number check than chance allows",
        Identifier.Rounded => "a ten-digit number that a spreadsheet has rounded",
        Identifier.Email => "an e-mail address",
        Identifier.Postcode => "a postcode",
        Identifier.Phone => "a telephone number",
        Identifier.Web => "a web or network address",
        Identifier.TitledName => "a person's name",
        Identifier.BirthDate => "a date of birth",
        Identifier.HospitalNumber => "a hospital number",
        Identifier.NationalForm => "a national number as it is printed (check digits right)",
        Identifier.NationalNumber => "a national number",
        Identifier.ImageFile => "the name of an image file",
        Identifier.Address => "an address",
        Identifier.Plate => "a number plate",
        _ => "a professional registration number",
    };

    /// <summary>What a finding says.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="read">True when the column is one that the mapping reads.</param>
    /// <param name="count">In how many cells.</param>
    public static string Explain(CellRule rule, bool read, int count) => rule switch
    {
        UniqueText => "Hardly a value of this column repeats, as in a column of names or numbers of patients; it is not read. "
            + "Leave it out of the export, or state under columns_checked that it identifies nobody.",
        ColumnChecked => "The mapping states under columns_checked, with a reason, that a person has checked this column; "
            + "it was not searched for identifiers at all. Name the `rules` to lift instead, so that it is searched for everything else.",
        RulesLifted => "The mapping lifts rules for this column under columns_checked, with a reason, because a person has checked it; "
            + "it was searched for everything else.",
        BirthColumn => $"This column's dates, months or years lie before the events, as dates of birth do; {Fate(read)}",
        NameColumn => $"The words of this column have the form of persons' names; {Fate(read)}",
        InitialsColumn => $"The cells of this column have the form of persons' initials; {Fate(read)}",
        AddressColumn => $"The cells of this column have the form of addresses; {Fate(read)}",
        PlateColumn => $"The cells of this column have the form of number plates; {Fate(read)}",
        PhoneColumn => $"The cells of this column have the form of telephone numbers, or of hospital numbers; {Fate(read)}",
        NationalColumn => $"More numbers of this column pass a country's check digits than chance allows; {Fate(read)}",
        _ when read =>
            $"It looks like {What(rule)} and was made missing; correct the cell at the source, or leave the column out of the export.",
        _ => FormattableString.Invariant(
            $"{count} cell{(count == 1 ? " looks" : "s look")} like {What(rule)}; the column is not read. Leave it out of the export."),
    };

    private static string Fate(bool read) => (read ? "it is read as it is. " : "it is not read. ")
        + "Leave it out of the export, or lift the rule for it under columns_checked once a person has looked.";

    private static Identifier KindOf(CellRule rule) => (Identifier)(1 << (rule - CellRule.Identifier));
}
