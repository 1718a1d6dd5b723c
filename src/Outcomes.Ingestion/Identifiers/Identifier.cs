namespace Outcomes.Ingestion.Identifiers;

/// <summary>What a text may hold that points at a person. Several can be true of one cell; each bit has its own rule id.</summary>
[Flags]
public enum Identifier
{
    None = 0,

    /// <summary>A ten-digit number written 3-3-4 whose check digit is right: the way NHS numbers are printed.</summary>
    NhsForm = 1 << 0,

    /// <summary>
    /// A ten-digit number in any other form whose check digit is right. One in eleven random numbers does as much: a suspicion.
    /// </summary>
    NhsNumber = 1 << 1,

    /// <summary>The same, starting with a day, month and year as Scottish CHI numbers do.</summary>
    Chi = 1 << 2,

    /// <summary>The same, in the range of Northern Ireland's Health and Care numbers.</summary>
    HealthAndCare = 1 << 3,

    /// <summary>A ten-digit number, whether or not it passes the check: counted, and no finding by itself.</summary>
    TenDigits = 1 << 4,

    /// <summary>A ten-digit number that a spreadsheet has rounded, such as 9.99E+09: its check digit is gone.</summary>
    Rounded = 1 << 5,

    Email = 1 << 6,

    Postcode = 1 << 7,

    Phone = 1 << 8,

    /// <summary>A web address or an IP address.</summary>
    Web = 1 << 9,

    /// <summary>A title and a name, or a name announced as the patient's.</summary>
    TitledName = 1 << 10,

    /// <summary>A date in the shape of a date of birth.</summary>
    BirthDate = 1 << 11,

    /// <summary>A letter and six to eight digits, or a number announced as a hospital number.</summary>
    HospitalNumber = 1 << 12,

    /// <summary>A professional registration number, by its words or by its shape.</summary>
    Registration = 1 << 13,

    /// <summary>
    /// Two adjacent capitalised words, none of them clinical: a name by its form alone, looked for only where nothing is read.
    /// </summary>
    BareName = 1 << 14,

    /// <summary>
    /// A ten-digit number whose check digit is right, in a range from which no number is issued: counted, and no finding by itself.
    /// </summary>
    Unissued = 1 << 15,

    /// <summary>A national number of another country as that country prints it, its check digits right.</summary>
    NationalForm = 1 << 16,

    /// <summary>The same without its printed form, or with a weaker check: a suspicion.</summary>
    NationalNumber = 1 << 17,

    /// <summary>The name of a file that holds an image or a film.</summary>
    ImageFile = 1 << 18,

    /// <summary>A street and a house number.</summary>
    Address = 1 << 19,

    /// <summary>A vehicle's number plate as it is printed.</summary>
    Plate = 1 << 20,
}

/// <summary>Sets of identifiers.</summary>
public static class IdentifierSets
{
    /// <summary>Every ten-digit number, in whatever form.</summary>
    public const Identifier Numbers = Identifier.NhsForm | Passing | Counted | Identifier.Rounded;

    /// <summary>What is only counted, and says nothing of the cell it stands in.</summary>
    public const Identifier Counted = Identifier.TenDigits | Identifier.Unissued;

    /// <summary>Ten-digit numbers that pass the check, without the printed form, which refuses by itself.</summary>
    public const Identifier Passing = Identifier.NhsNumber | Identifier.Chi | Identifier.HealthAndCare;

    /// <summary>One cell of these refuses the file.</summary>
    public const Identifier Refusing = Identifier.NhsForm | Identifier.Email | Identifier.Postcode | Identifier.NationalForm;

    /// <summary>National numbers of other countries.</summary>
    public const Identifier National = Identifier.NationalForm | Identifier.NationalNumber;

    /// <summary>All but names by their form alone, which a name of a place may have as well.</summary>
    public const Identifier All =
        Numbers | Identifier.Email | Identifier.Postcode | Identifier.Phone | Identifier.Web | Identifier.TitledName
            | Identifier.BirthDate | Identifier.HospitalNumber | Identifier.Registration | National
            | Identifier.ImageFile | Identifier.Address
            | Identifier.Plate;

    /// <summary>What is asked of a column that is not read.</summary>
    public const Identifier OfUnread = All | Identifier.BareName;

    /// <summary>
    /// What is asked of a column of keys. A key is unique by its nature and made of letters and digits, so the shapes that a good
    /// pseudonym may have (a letter and digits, digits alone) are no evidence there.
    /// </summary>
    public const Identifier OfKeys = Numbers | Identifier.Email | Identifier.Postcode | Identifier.Web | Identifier.TitledName
        | Identifier.NationalForm | Identifier.ImageFile | Identifier.Address;

    /// <summary>What is asked of a cell that should have been a number, a date or a time and was not.</summary>
    public const Identifier OfNumbers = Numbers | Identifier.Email | Identifier.Postcode | National;
}
