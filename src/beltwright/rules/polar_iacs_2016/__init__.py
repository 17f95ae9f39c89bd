"""IACS UR I1 Rev.2 and UR I2 Rev.3 (2016): what differs from the edition of 2019; everything else is taken over."""
